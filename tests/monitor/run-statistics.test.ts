import { describe, expect, it } from 'vitest';
import { runStatistics } from '../../src/monitor/run-statistics.ts';

describe('the statistics of three runs of three layers, worked by hand', () => {
  const statistics = () =>
    runStatistics(
      {
        from: 4,
        to: 7,
        thicknessNm: Float64Array.of(10, 24, 5, 11, 22, 5, 12, 20, 5),
        ending: Uint8Array.of(0, 0, 0, 1, 0, 0, 0, 2, 0),
        crystalState: Uint8Array.of(0, 1, 0, 2, 0, 0, 0, 0, 0),
      },
      [10, 20, 5],
    );

  it('are mean, spread with n − 1, percentiles and missed cuts of each layer', () => {
    const { layers, runsWithMissedCut } = statistics();
    // The percentiles lie between the order statistics in proportion: 5 % of the way from the first to the last.
    expect(layers[0]).toEqual({ mean: 1, sigma: 1, percentiles: { 5: 0.1, 50: 1, 95: 1.9 }, missed: 1 / 3 });
    expect(layers[1]).toMatchObject({ mean: 2, sigma: 2, missed: 1 / 3 });
    expect(layers[2]).toMatchObject({ mean: 0, sigma: 0, missed: 0 });
    expect(runsWithMissedCut).toBeCloseTo(2 / 3, 15);
  });

  it('are the correlations, none with a layer that never varies', () => {
    expect(statistics().correlation).toEqual([
      [1, -1, 0],
      [-1, 1, 0],
      [0, 0, 1],
    ]);
  });

  it('are the shares of crystals beyond their budget and lost', () => {
    expect(statistics().crystals).toEqual({
      runsLost: 1 / 3,
      lost: [1 / 3, 0, 0],
      runsOverBudget: 2 / 3,
      overBudget: [1 / 3, 1 / 3, 0],
    });
  });
});
