import * as v from 'valibot';
import { list, quantity } from '../../base/schema.ts';
import { pumpDown } from '../../chamber/pump-down.ts';
import { defineTask } from '../task.ts';

export default defineTask({
  name: 'pumpdown',
  summary: 'How long the pumps take, stage by stage.',
  request: v.strictObject({
    volumeM3: quantity('m3', { above: 0, max: 1000 }, 'volume of the chamber'),
    stages: list(
      v.strictObject({
        speedM3PerS: quantity(
          'm3/s',
          { above: 0, max: 1000 },
          "speed at the chamber, or the pump's own where a line is given",
        ),
        line: v.exactOptional(
          v.strictObject({
            diameterMm: quantity('mm', { above: 0, max: 5000 }, 'bore'),
            lengthMm: quantity('mm', { min: 0, max: 1e5 }, 'at most a thousand bores'),
          }),
        ),
        loadPaM3PerS: quantity('Pa m3/s', { min: 0, max: 1e6 }, 'steady gas load'),
        untilPa: quantity('Pa', { above: 0, max: 200_000 }, 'pressure at which the stage ends'),
      }),
      { min: 1, max: 100 },
      'the pumps in their order',
    ),
    startPa: quantity('Pa', { above: 0, max: 200_000 }, 'pressure at the start'),
    outgassing: v.exactOptional(
      v.strictObject({
        areaM2: quantity('m2', { min: 0, max: 1000 }, 'inner surface'),
        rateAfter1hPaM3PerSM2: quantity(
          'Pa m3/s per m2',
          { min: 0, max: 1 },
          'what it gives off after one hour of pumping, falling as 1/t',
        ),
      }),
    ),
  }),
  example: {
    volumeM3: 0.6,
    startPa: 101_325,
    stages: [
      { speedM3PerS: 0.02, loadPaM3PerS: 0.01, untilPa: 5 },
      { speedM3PerS: 1.5, loadPaM3PerS: 0.0002, untilPa: 0.001 },
    ],
    outgassing: { areaM2: 6, rateAfter1hPaM3PerSM2: 0.00001 },
  },
  run(request) {
    return { ...pumpDown(request), warnings: [] };
  },
});
