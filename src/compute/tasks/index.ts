import * as v from 'valibot';
import { indexSpec, resolveIndex } from '../../materials/index-spec.ts';
import { wavelengthGrid } from '../grid.ts';
import { defineTask } from '../task.ts';

/** CONTRACT task 1: the index of a material on a grid of wavelengths. */
export default defineTask({
  name: 'index',
  summary: 'Refractive index and extinction of a material, with the range of its data and their source.',
  request: v.strictObject({ material: indexSpec, wavelengthNm: wavelengthGrid }),
  example: { material: 'tio2', wavelengthNm: { from: 400, to: 700, step: 100 } },
  run({ material, wavelengthNm }) {
    const { n, k, inRange, source, label, warnings, caution } = resolveIndex(
      material,
      wavelengthNm,
      [],
      'material',
    );
    return {
      wavelengthNm: Array.from(wavelengthNm),
      n: Array.from(n),
      k: Array.from(k),
      inRange,
      source,
      label,
      warnings: caution === undefined ? warnings : [...warnings, `${label}: ${caution}.`],
    };
  },
});
