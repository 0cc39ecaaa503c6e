import { describe, expect, it } from 'vitest';
import { LightWalk } from '../../src/monitor/light-walk.ts';
import { WitnessLight } from '../../src/monitor/witness-light.ts';
import { constantIndex } from './constant-index.ts';

describe('a walk of the light in small steps', () => {
  for (const signal of ['R', 'T'] as const)
    for (const backSurface of ['none', 'bare'] as const)
      for (const k of [0, 0.02])
        it(`arrives where the exact signal does: ${signal}, back ${backSurface}, k = ${k}`, () => {
          const light = new WitnessLight(
            {
              incident: constantIndex(1),
              substrate: constantIndex(1.52, 1e-7),
              thicknessMm: 2,
              backSurface,
              incidenceRad: 0.4,
            },
            [constantIndex(2.3, k), constantIndex(1.46), constantIndex(2.1, k)],
            { wavelengthNm: 550, signal, bandwidthNm: 7 },
          );
          const walk = new LightWalk(light);
          walk.begin([50, 90]);
          let thicknessNm = 0;
          for (let i = 0; i < 3000; i++) {
            // Steps of 0 to 0.2 nm and, now and then, a spit of 6 nm.
            const step = i % 997 === 996 ? 6 : 0.1 * (1 + Math.sin(i));
            thicknessNm += step;
            const level = walk.advance(step);
            if (i % 50 === 49) expect(level).toBeCloseTo(light.level(thicknessNm), 12);
          }
        });
});
