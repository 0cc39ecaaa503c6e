import * as v from 'valibot';
import { RAD_PER_DEG } from '../../base/constants.ts';
import { count, quantity, word } from '../../base/schema.ts';
import { StackField } from '../../optics/stack-field.ts';
import { grid } from '../grid.ts';
import { resolveStack, surfaceFields } from '../shapes.ts';
import { defineTask } from '../task.ts';

/** CONTRACT task 3: the field in and around a stack. */
export default defineTask({
  name: 'field',
  summary: 'Intensity of the electric field and absorption at any depth of a stack.',
  request: v.strictObject({
    ...surfaceFields,
    wavelengthNm: quantity('nm', { min: 1, max: 1e6 }, 'vacuum wavelength'),
    incidenceDeg: v.optional(quantity('deg', { min: 0, below: 90 }, 'angle in the incident medium'), 0),
    polarization: v.optional(word(['s', 'p'], 'plane of vibration (default s)'), 's'),
    depthNm: grid(
      'nm',
      { min: -1e7, max: 1e7 },
      '0 at the first boundary that the light meets, positive into the stack, negative in front of it',
    ),
    locusPoints: v.exactOptional(
      count(
        { min: 1, max: 10_000 },
        'add the admittance that each layer draws as it grows, at so many equal steps of its thickness',
      ),
    ),
  }),
  example: {
    layers: [
      { material: 'ta2o5', thicknessNm: 125 },
      { material: 'sio2', thicknessNm: 180 },
    ],
    substrate: 'fused-silica',
    wavelengthNm: 1064,
    depthNm: { from: -200, to: 400, step: 50 },
  },
  run({ wavelengthNm, incidenceDeg, polarization, depthNm, locusPoints, ...request }) {
    const { stack, thicknessNm, warnings } = resolveStack(request, Float64Array.of(wavelengthNm));
    const field = new StackField(stack, thicknessNm, incidenceDeg * RAD_PER_DEG, polarization);
    const points = Array.from(depthNm, (depth) => field.at(depth));
    return {
      depthNm: Array.from(depthNm),
      intensity: points.map((point) => point.intensity),
      absorptionPerNm: points.map((point) => point.absorptionPerNm),
      layerAbsorptance: Array.from(field.absorptance()),
      ...(locusPoints !== undefined && { admittanceLocus: locusAnswer(field, locusPoints) }),
      warnings,
    };
  },
});

/** [layer][point], in free-space units, from the lower boundary of the layer up. */
function locusAnswer(field: StackField, points: number): { re: number; im: number }[][] {
  return field.admittanceLocus(points).map((layer) => layer.map(({ re, im }) => ({ re, im })));
}
