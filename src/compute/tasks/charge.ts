import * as v from 'valibot';
import { quantity } from '../../base/schema.ts';
import { chargeMassG } from '../../chamber/charge.ts';
import { defineTask } from '../task.ts';

export default defineTask({
  name: 'charge',
  summary: 'The mass of material to evaporate for a layer.',
  request: v.strictObject({
    densityGPerCm3: quantity('g/cm3', { above: 0, max: 30 }, 'density of the film'),
    thicknessNm: quantity('nm', { min: 0, max: 1e7 }, 'thickness wanted at the point'),
    exponent: quantity('', { min: 0, max: 50 }, 'n of the cos^n emission law; 1 is a small flat source'),
    heightMm: quantity('mm', { min: 1, max: 10_000 }, 'height of the plane above the source'),
    offsetMm: v.exactOptional(
      quantity(
        'mm',
        { min: 0, max: 10_000 },
        'distance of the source from the axis about which the plane turns',
      ),
    ),
    pointRadiusMm: v.exactOptional(
      quantity('mm', { min: 0, max: 10_000 }, 'distance of the point from that axis (default 0)'),
    ),
  }),
  example: {
    densityGPerCm3: 2.2,
    thicknessNm: 120,
    exponent: 2,
    heightMm: 700,
    offsetMm: 250,
    pointRadiusMm: 200,
  },
  run(request) {
    return { massG: chargeMassG(request), warnings: [] };
  },
});
