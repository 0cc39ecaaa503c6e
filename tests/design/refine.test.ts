import { describe, expect, it } from 'vitest';
import { Merit } from '../../src/design/merit.ts';
import { meritGrid } from '../../src/design/merit-grid.ts';
import { refineThickness } from '../../src/design/refine.ts';
import { Random } from '../../src/math/random.ts';
import { AIR, FILMS, GLASS, reflectance } from './support/yardstick.ts';

const palette = FILMS.map(({ index }) => index);
const grid = (change = {}) => meritGrid([reflectance(change)], AIR, GLASS, palette, 61);
const bounds = { minNm: 5, maxNm: 350 };

describe('refineThickness', () => {
  it('finds the best single layer that a fine scan finds', () => {
    const merit = new Merit(grid(), [0]);
    const refined = refineThickness(merit, Float64Array.of(60), { bounds });
    let best = Number.POSITIVE_INFINITY;
    for (let nm = 5; nm < 200; nm += 0.05) best = Math.min(best, merit.exact(Float64Array.of(nm)));
    expect(refined.converged).toBe(true);
    expect(refined.merit).toBeLessThanOrEqual(best + 1e-6);
  });

  it('brings the gradient of the variables within the bounds to nothing', () => {
    const materials = [3, 0, 4, 0, 2, 4, 1, 0];
    const merit = new Merit(grid(), materials);
    const start = Float64Array.of(20, 40, 30, 20, 60, 90, 20, 80);
    const gradient = new Float64Array(8);
    const curvature = new Float64Array(64);
    merit.smoothWithDerivatives(start, 8, gradient, curvature);
    const before = Math.hypot(...gradient);
    const refined = refineThickness(merit, start, {
      bounds,
      relativeTolerance: 1e-14,
      maxEvaluations: 2000,
    });
    merit.smoothWithDerivatives(refined.thicknessNm, 8, gradient, curvature);
    const after = gradient.filter((slope, i) => refined.thicknessNm[i]! > 5.0001 || slope < 0);
    expect(Math.hypot(...after)).toBeLessThan(1e-4 * before);
  });

  it('keeps fixed layers, groups and bounds', () => {
    const random = new Random(2);
    for (let trial = 0; trial < 20; trial++) {
      const start = Float64Array.from({ length: 5 }, () => 5 + 100 * random.uniform());
      start[3] = start[1]!;
      const { thicknessNm } = refineThickness(new Merit(grid(), [3, 0, 2, 0, 1]), start, {
        bounds: {
          minNm: 12,
          maxNm: 90,
          fixed: [false, false, true, false, false],
          groups: [undefined, 1, undefined, 1, undefined],
        },
      });
      expect(thicknessNm[2]).toBe(start[2]);
      expect(thicknessNm[1]).toBe(thicknessNm[3]);
      for (const place of [0, 1, 3, 4]) {
        expect(thicknessNm[place]).toBeGreaterThanOrEqual(12);
        expect(thicknessNm[place]).toBeLessThanOrEqual(90);
      }
    }
  });

  it('keeps the total below its limit', () => {
    const { thicknessNm } = refineThickness(
      new Merit(grid(), [3, 0, 4, 0]),
      Float64Array.of(20, 40, 120, 90),
      { bounds: { ...bounds, maxTotalNm: 150 } },
    );
    expect(thicknessNm.reduce((sum, nm) => sum + nm, 0)).toBeLessThanOrEqual(150);
  });

  it('lowers the worst point below what lowering the mean leaves', () => {
    const start = Float64Array.of(15, 30, 110, 90);
    const byMean = refineThickness(new Merit(grid(), [4, 0, 4, 0]), start, { bounds });
    const worst = new Merit(grid({ statistic: 'max' }), [4, 0, 4, 0]);
    const byMax = refineThickness(worst, start, { bounds });
    expect(byMax.merit).toBeLessThan(worst.exact(byMean.thicknessNm));
  });

  it('stops on request with a stack no worse than its start', () => {
    const merit = new Merit(grid(), [3, 0, 4, 0]);
    const start = Float64Array.of(20, 40, 120, 90);
    const { evaluations, merit: reached } = refineThickness(merit, start, {
      bounds,
      stop: (count) => count >= 2,
    });
    expect(evaluations).toBeLessThanOrEqual(6);
    expect(reached).toBeLessThanOrEqual(merit.exact(start));
  });

  it('hands back a stack whose layers are all fixed', () => {
    const start = Float64Array.of(20, 40);
    const { thicknessNm, evaluations } = refineThickness(new Merit(grid(), [3, 0]), start, {
      bounds: { ...bounds, fixed: [true, true] },
    });
    expect([...thicknessNm]).toEqual([20, 40]);
    expect(evaluations).toBe(0);
  });
});
