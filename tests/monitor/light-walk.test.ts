import { describe, expect, it } from 'vitest';
import { LightWalk } from '../../src/monitor/light-walk.ts';
import { WitnessLight } from '../../src/monitor/witness-light.ts';
import { constantIndex } from './constant-index.ts';
import { plainWitness as plain } from './plain-witness.ts';

describe('a walk of the light in small steps', () => {
  for (const signal of ['R', 'T'] as const)
    for (const backSurface of ['none', 'bare'] as const)
      for (const k of [0, 0.02])
        it(`arrives where the exact signal does: ${signal}, back ${backSurface}, k = ${k}`, () => {
          const light = new WitnessLight(
            {
              ...plain,
              substrate: constantIndex(1.52, 0.4),
              thicknessMm: 2e-4,
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

  it.each([
    [0, 1],
    [6, 1.3],
  ])(
    'goes on from batch to batch and leaves what lies behind them: band %d nm, tooling %d',
    (bandwidthNm, tooling) => {
      const films = [constantIndex(2.1, 0.01), constantIndex(1.38, 0.001)];
      const light = new WitnessLight(plain, films, { wavelengthNm: 550, signal: 'R', bandwidthNm });
      const walk = new LightWalk(light);
      walk.begin([70]);
      const steps = Float64Array.from({ length: 300 }, (_, i) => 0.3 + 0.2 * Math.sin(i));
      let thicknessNm = 0;
      for (const count of [1, 64, 130, 7]) {
        const levels = new Float64Array(300).fill(-1);
        walk.take(steps, tooling, count, levels);
        for (let i = 0; i < count; i++) {
          thicknessNm += tooling * steps[i]!;
          expect(levels[i]).toBeCloseTo(light.level(thicknessNm), 12);
        }
        expect(new Set(levels.subarray(count))).toEqual(new Set([-1]));
      }
    },
  );

  it.each([1.04, 1.05])('keeps its digits over 4000 steps of %d nm, of a phase of a twentieth', (step) => {
    // On both sides of the phase up to which a series stands for sine and cosine, where it is at its worst.
    const light = new WitnessLight(plain, [constantIndex(2.1)], { wavelengthNm: 550, signal: 'R' });
    const walk = new LightWalk(light);
    walk.begin([]);
    const levels = new Float64Array(4000).fill(step);
    walk.take(levels, 1, 4000, levels);
    for (let i = 1000; i <= 4000; i += 1000) expect(levels[i - 1]).toBeCloseTo(light.level(i * step), 11);
  });
});
