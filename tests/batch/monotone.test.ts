import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/base/errors.ts';
import type { Batch } from '../../src/batch/document.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { readBatch } from '../../src/batch/read-batch.ts';
import { chargeMassG } from '../../src/chamber/charge.ts';
import { loadCrystal } from '../../src/chamber/crystal.ts';
import { type PumpDownRequest, pumpDown } from '../../src/chamber/pump-down.ts';

/*
 * More film never takes less time or less material, over the whole legal range; drawn by fast-check with a fixed seed.
 */

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const more = real(1.001, 3);

describe('more', () => {
  it('thickness or density takes more mass', () => {
    fc.assert(
      fc.property(
        real(0.1, 10),
        real(0.01, 1e6),
        real(0, 50),
        real(10, 5000),
        real(0, 3000),
        real(0, 3000),
        more,
        (densityGPerCm3, thicknessNm, exponent, heightMm, offsetMm, pointRadiusMm, times) => {
          const film = { densityGPerCm3, thicknessNm, exponent, heightMm, offsetMm, pointRadiusMm };
          const mass = (change: object) => chargeMassG({ ...film, ...change });
          try {
            mass({});
          } catch (error) {
            fc.pre(!(error instanceof InputError)); // nothing arrives there
          }
          expect(mass({ thicknessNm: thicknessNm * times })).toBeGreaterThan(mass({}));
          expect(mass({ densityGPerCm3: densityGPerCm3 * times })).toBeGreaterThan(mass({}));
        },
      ),
      { numRuns: 300, seed: 9 },
    );
  });

  it('film on a crystal leaves it a lower frequency', () => {
    fc.assert(
      fc.property(
        real(0.5, 12),
        real(0.1, 3),
        real(1, 3000),
        more,
        (densityGPerCm3, zRatio, thicknessNm, times) => {
          const film = {
            frequencyHz: 6e6,
            densityGPerCm3,
            zRatio,
            tooling: 1,
            frequencyConstantHzCm: 166_800,
            quartzDensityGPerCm3: 2.648,
          };
          const left = (thickness: number) => loadCrystal(film, thickness).loadedFrequencyHz;
          expect(left(thicknessNm * times)).toBeLessThan(left(thicknessNm));
        },
      ),
      { numRuns: 300, seed: 9 },
    );
  });

  it('volume, gas load or a lower pressure takes longer to pump, more speed does not', () => {
    fc.assert(
      fc.property(
        real(0.01, 20),
        real(0.001, 2),
        real(0, 1e-3),
        real(-3, 3),
        more,
        (volumeM3, speedM3PerS, loadPaM3PerS, decade, times) => {
          const untilPa = 10 ** decade;
          const seconds = (change: Partial<PumpDownRequest['stages'][number]>, volume = volumeM3) =>
            pumpDown({
              volumeM3: volume,
              startPa: 1e5,
              stages: [{ speedM3PerS, loadPaM3PerS, untilPa, ...change }],
            }).totalS;
          fc.pre(loadPaM3PerS * times < 0.9 * speedM3PerS * (untilPa / times));
          const now = seconds({});
          expect(seconds({}, volumeM3 * times)).toBeGreaterThan(now);
          expect(seconds({ loadPaM3PerS: loadPaM3PerS * times })).toBeGreaterThanOrEqual(now);
          expect(seconds({ untilPa: untilPa / times })).toBeGreaterThan(now);
          expect(seconds({ speedM3PerS: speedM3PerS * times })).toBeLessThan(now);
        },
      ),
      { numRuns: 200, seed: 9 },
    );
  });

  const demos = ['eyepiece-field-lens', 'prism-face'].map((name) =>
    readBatch(readFileSync(new URL(`../../demo/${name}.json`, import.meta.url), 'utf8')),
  );

  it('of any layer makes the run no shorter and takes more of its material', () => {
    fc.assert(
      fc.property(fc.constantFrom(...demos), fc.nat(), more, (batch, at, times) => {
        const { layers } = batch.surfaces.front;
        const place = at % layers.length;
        const thicker: Batch = {
          ...batch,
          surfaces: {
            ...batch.surfaces,
            front: {
              ...batch.surfaces.front,
              layers: layers.map((layer, index) =>
                index === place ? { ...layer, thicknessNm: layer.thicknessNm * times } : layer,
              ),
            },
          },
        };
        const [before, after] = [batch, thicker].map((one) => computePlan(one).runs[0]!);
        const { material } = layers[place]!;
        const massOf = (run: typeof before) => run!.charge.find((one) => one.material === material)!.massG;
        expect(after!.totalS).toBeGreaterThanOrEqual(before!.totalS);
        expect(massOf(after)).toBeGreaterThan(massOf(before));
      }),
      { numRuns: 10, seed: 9 },
    );
  });
});
