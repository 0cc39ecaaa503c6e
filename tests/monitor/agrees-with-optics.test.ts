import { describe, expect, it } from 'vitest';
import { predictSignals } from '../../src/monitor/signal.ts';
import type { IndexOf } from '../../src/monitor/witness.ts';
import { computeAveragedSpectrum } from '../../src/optics/spectrum.ts';
import { constantIndex } from './constant-index.ts';

/** A film that disperses, so that the band matters. */
const cauchy: IndexOf = (nm) => ({
  n: nm.map((at) => 2.05 + 15_000 / at ** 2),
  k: new Float64Array(nm.length).fill(0.002),
});
const films = [cauchy, constantIndex(1.46), cauchy];
const thicknessNm = Float64Array.of(60, 95, 140);
const glass = constantIndex(1.52, 1e-7);
const air = constantIndex(1);

describe('the monitor and the spectra of the optics', () => {
  for (const backSurface of ['none', 'bare'] as const)
    for (const bandwidthNm of [0, 4, 12])
      for (const incidenceRad of [0, 0.5])
        it(`say the same: back ${backSurface}, band ${bandwidthNm} nm, angle ${incidenceRad}`, () => {
          const bare = (grid: Float64Array) => ({
            thicknessMm: 2,
            backLayers: [],
            backThicknessNm: new Float64Array(),
            exit: air(grid),
          });
          const partAt = (grid: Float64Array) => ({
            stack: {
              wavelengthNm: grid,
              incident: air(grid),
              layers: films.map((film) => film(grid)),
              substrate: glass(grid),
            },
            ...(backSurface === 'none' ? {} : { plate: bare(grid) }),
          });
          const averageOver = { bandwidthNm };
          const { angles } = computeAveragedSpectrum(partAt, Float64Array.of(550), thicknessNm, {
            incidenceRad: [incidenceRad],
            averageOver,
          });
          const witness = { incident: air, substrate: glass, thicknessMm: 2, backSurface, incidenceRad };
          for (const signal of ['R', 'T'] as const) {
            const layers = films.map((material, i) => ({
              material,
              thicknessNm: thicknessNm[i]!,
              wavelengthNm: 550,
              signal,
              bandwidthNm,
            }));
            const end = predictSignals(witness, layers, 2)[2]!.endLevel;
            expect(end).toBeCloseTo(angles[0]!.mean[signal][0]!, bandwidthNm === 0 ? 12 : 8);
          }
        });
});
