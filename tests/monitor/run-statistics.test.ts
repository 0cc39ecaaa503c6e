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
    expect(layers[1]).toEqual({
      ...{ mean: 2, sigma: 2, missed: 1 / 3 },
      percentiles: { 5: expect.closeTo(0.2, 12), 50: 2, 95: expect.closeTo(3.8, 12) },
    });
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

describe('the statistics of runs', () => {
  const ofTwo = (one: readonly number[], other: readonly number[]) =>
    runStatistics(
      {
        ...{ from: 0, to: one.length },
        thicknessNm: Float64Array.from(one.flatMap((nm, run) => [nm, other[run]!])),
        ending: new Uint8Array(2 * one.length),
      },
      [0, 0],
    );

  it('have the product-moment correlation, whatever the size of the errors', () => {
    // Worked by hand: deviations (-3, -1, 1, 3) / 2 and (-3, 1, -1, 3) times a scale, covariance 4/3, variances 5/3: 0.8.
    for (const scale of [1, 8, -8, 1e-3]) {
      const { correlation } = ofTwo(
        [1, 2, 3, 4],
        [1, 3, 2, 4].map((nm) => scale * nm),
      );
      expect(correlation[0]![1]).toBeCloseTo(0.8 * Math.sign(scale), 12);
      expect(correlation[1]![0]).toBe(correlation[0]![1]);
      expect([correlation[0]![0], correlation[1]![1]]).toEqual([1, 1]);
    }
  });

  it('call nothing correlated that scatters by less than a millionth of a nanometre', () => {
    const tiny = [1, 2, 3, 4].map((nm) => 5e-7 * nm);
    expect(ofTwo(tiny, [1, 2, 3, 4]).correlation[0]![1]).toBe(0);
    expect(ofTwo([1, 2, 3, 4], tiny).correlation[0]![1]).toBe(0);
    expect(
      ofTwo(
        tiny.map((nm) => 2 * nm),
        [1, 2, 3, 4],
      ).correlation[0]![1],
    ).toBeCloseTo(1, 9);
  });

  it('say of one run that nothing scatters', () => {
    const { layers } = ofTwo([3], [-2]);
    expect(layers[0]).toEqual({ mean: 3, sigma: 0, percentiles: { 5: 3, 50: 3, 95: 3 }, missed: 0 });
  });

  it('do not speak of crystals of which nothing is known', () => {
    expect(ofTwo([1], [1])).not.toHaveProperty('crystals');
  });
});
