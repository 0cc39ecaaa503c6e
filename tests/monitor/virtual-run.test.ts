import { describe, expect, it } from 'vitest';
import type { CutRule } from '../../src/monitor/cut-rule.ts';
import { NO_NOISE, type RunNoise } from '../../src/monitor/run-noise.ts';
import { type CutLayer, setUpRuns } from '../../src/monitor/run-setup.ts';
import { runStatistics } from '../../src/monitor/run-statistics.ts';
import { joinBlocks, simulateRuns } from '../../src/monitor/simulate-runs.ts';
import { WitnessLight } from '../../src/monitor/witness-light.ts';
import { constantIndex } from './constant-index.ts';
import { plainWitness as glass } from './plain-witness.ts';

const high = constantIndex(2.1);
const low = constantIndex(1.38);

function layer(
  material: typeof high,
  thicknessNm: number,
  rule: CutRule,
  more: Partial<CutLayer> = {},
): CutLayer {
  return { material, thicknessNm, wavelengthNm: 550, signal: 'R', rule, rateNmPerS: 0.5, ...more };
}

/** Four layers that each end well off a turning point. */
function fourLayers(rule: CutRule): CutLayer[] {
  return [
    layer(high, 40, rule),
    layer(low, 50, rule, { newWitness: true }),
    layer(high, 95, rule, { newWitness: true }),
    layer(low, 150, rule, { newWitness: true }),
  ];
}

function statisticsOf(layers: readonly CutLayer[], noise: Partial<RunNoise>, runs: number, seed = 3) {
  const setup = setUpRuns(glass, layers, { ...NO_NOISE, ...noise });
  return runStatistics(
    simulateRuns(setup, seed, 0, runs),
    layers.map(({ thicknessNm }) => thicknessNm),
  );
}

describe('a virtual run', () => {
  it.each(['level', 'swing', 'crystal', 'time'] as const)('hits the plan without noise: %s', (rule) => {
    const { layers } = statisticsOf(fourLayers(rule), {}, 2);
    for (const { mean, missed } of layers) {
      expect(Math.abs(mean)).toBeLessThan(1e-3);
      expect(missed).toBe(0);
    }
  });

  it('cuts a turning point late by half its line and at most a sample more', () => {
    const quarter = 550 / 4 / 2.1;
    const layers = [
      layer(high, quarter, 'turning-point'),
      layer(high, 2 * quarter, 'turning-point', { newWitness: true }),
    ];
    const { layers: found } = statisticsOf(layers, {}, 2);
    for (const { mean } of found) {
      expect(mean).toBeGreaterThan(0);
      expect(mean).toBeLessThan(2 * 0.5 * 0.1);
    }
  });

  it('by the clock scatters as the sum of independent samples of the rate', () => {
    // Variance of a sum: sigma of thickness = sigma of rate * rate * sqrt(time * sample).
    const noise = { rateNoisePercent: 20, sampleS: 0.2 };
    const runs = 1500;
    const { layers } = statisticsOf(fourLayers('time'), noise, runs);
    for (const [index, { mean, sigma }] of layers.entries()) {
      const seconds = fourLayers('time')[index]!.thicknessNm / 0.5;
      const expected = 0.2 * 0.5 * Math.sqrt(seconds * 0.2);
      expect(Math.abs(sigma / expected - 1)).toBeLessThan(4 / Math.sqrt(2 * runs));
      expect(Math.abs(mean)).toBeLessThan((4 * expected) / Math.sqrt(runs));
    }
  });

  it('by the clock is off by exactly the bias of the rate, by level it is not', () => {
    const noise = { rateBiasPercent: 7 };
    const byTime = statisticsOf(fourLayers('time'), noise, 2).layers;
    const byLevel = statisticsOf(fourLayers('level'), noise, 2).layers;
    for (const [index, { thicknessNm }] of fourLayers('time').entries()) {
      expect(byTime[index]!.mean).toBeCloseTo(0.07 * thicknessNm, 8);
      expect(Math.abs(byLevel[index]!.mean)).toBeLessThan(0.02);
    }
  });

  it('by crystal scatters with the scale of the crystal', () => {
    const runs = 2000;
    const { layers } = statisticsOf(fourLayers('crystal'), { crystalPercent: 1 }, runs);
    for (const [index, { sigma }] of layers.entries()) {
      const expected = 0.01 * fourLayers('crystal')[index]!.thicknessNm;
      expect(Math.abs(sigma / expected - 1)).toBeLessThan(4.5 / Math.sqrt(2 * runs));
    }
  });

  it.each(['level', 'crystal', 'time'] as const)('goes on for the shutter delay: %s', (rule) => {
    const { layers } = statisticsOf([layer(high, 40, rule)], { shutterDelayS: 0.73 }, 2);
    expect(layers[0]!.mean).toBeCloseTo(0.73 * 0.5, 2);
  });

  it('with a gain error cuts wrong by level, right by the rescaled level', () => {
    const noise = { gainPercent: 3 };
    const long = (rule: CutRule) => [layer(high, 110, rule)];
    const level = statisticsOf(long('level'), noise, 60).layers[0]!;
    const swing = statisticsOf(long('swing'), noise, 60).layers[0]!;
    expect(level.sigma).toBeGreaterThan(0.5);
    expect(swing.sigma).toBeLessThan(0.02);
  });

  it('scatters by level as the noise of its line over the slope of the signal', () => {
    const noise = { signalPercent: 0.05 };
    const setup = setUpRuns(glass, [layer(high, 40, 'level')], { ...NO_NOISE, ...noise });
    const { window } = setup.plans[0]!;
    const light = new WitnessLight(glass, [high], { wavelengthNm: 550, signal: 'R' });
    light.begin([]);
    // End of a regression line: variance 2 s² (2m - 1) / (m (m + 1)) (textbook).
    const sigmaOfEnd = 0.0005 * Math.sqrt((2 * (2 * window - 1)) / (window * (window + 1)));
    const expected = sigmaOfEnd / light.slope(40);
    const { sigma, mean } = statisticsOf([layer(high, 40, 'level')], noise, 800).layers[0]!;
    // The first crossing of a rising noisy level comes early and scatters less than one look would.
    expect(sigma).toBeGreaterThan(0.4 * expected);
    expect(sigma).toBeLessThan(1.1 * expected);
    expect(mean).toBeLessThan(0);
    expect(mean).toBeGreaterThan(-3 * expected);
  });

  it('lets each layer grow on what really lies below: an early overshoot shifts the next cut', () => {
    // The first layer is cut by a crystal that errs; the second one by level on the same witness answers to it.
    const layers = [layer(high, 40, 'crystal'), layer(low, 60, 'level')];
    const { correlation, layers: found } = statisticsOf(layers, { crystalPercent: 3 }, 300);
    expect(found[1]!.sigma).toBeGreaterThan(0.2);
    expect(Math.abs(correlation[0]![1]!)).toBeGreaterThan(0.95);
  });

  it('ends at crystal or clock where the signal shows nothing', () => {
    const blind = [layer(constantIndex(1.52), 80, 'level'), layer(constantIndex(1.52), 80, 'turning-point')];
    const noise = { signalPercent: 0.1, rateNoisePercent: 10 };
    const setup = setUpRuns(glass, blind, { ...NO_NOISE, ...noise });
    expect(setup.plans[0]!.doubts.join()).toContain('no optical rule can be trusted');
    expect(setup.plans[1]!.doubts.join()).toContain('cannot trigger');
    const block = simulateRuns(setup, 5, 0, 10);
    for (const nm of block.thicknessNm) {
      expect(nm).toBeGreaterThanOrEqual(0);
      expect(nm).toBeLessThan(80 * 1.35);
    }
    expect(Array.from(block.ending)).toContain(2);
  });

  it('takes a layer of no thickness as not there', () => {
    const { layers } = statisticsOf(
      [layer(high, 0, 'level'), layer(low, 50, 'level')],
      { shutterDelayS: 1 },
      2,
    );
    expect(layers[0]!.mean).toBe(0);
  });

  it('is the same bit for bit however the runs are split', () => {
    const noise = {
      signalPercent: 0.1,
      rateNoisePercent: 10,
      crystalPercent: 1,
      spitsPerMin: 3,
      spitNm: 0.4,
      gainPercent: 1,
      indexPercent: 0.5,
    };
    const setup = setUpRuns(glass, fourLayers('swing'), { ...NO_NOISE, ...noise });
    const whole = simulateRuns(setup, 11, 0, 12);
    const parts = joinBlocks([simulateRuns(setup, 11, 5, 12), simulateRuns(setup, 11, 0, 5)]);
    expect(parts).toEqual(whole);
    expect(simulateRuns(setup, 12, 0, 12).thicknessNm).not.toEqual(whole.thicknessNm);
  });

  it('adds spits of the rate and size given', () => {
    // Poisson: with k spits a minute over the time, mean k nm each, the clock cuts that much thicker.
    const runs = 600;
    const { layers } = statisticsOf([layer(high, 60, 'time')], { spitsPerMin: 4, spitNm: 0.5 }, runs);
    const spits = 4 * (120 / 60);
    expect(Math.abs(layers[0]!.mean - spits * 0.5)).toBeLessThan(
      (4 * 0.5 * Math.sqrt(spits)) / Math.sqrt(runs),
    );
    expect(Math.abs(layers[0]!.sigma / (0.5 * Math.sqrt(spits)) - 1)).toBeLessThan(0.12);
  });

  it('compensates at its wavelength what turning-point cuts do wrong', () => {
    // P. Bousquet et al., Thin Solid Films 13, 285 (1972); H. A. Macleod & E. Pelletier, Opt. Acta 24, 907 (1977), both
    // from memory: layers cut at turning points of one witness at the wavelength of use correct one another there.
    const [h, l] = [constantIndex(2.3), constantIndex(1.46)];
    const kinds = 'HLHLHHLHLH'.split('');
    const layers = kinds.map((kind) =>
      layer(kind === 'H' ? h : l, 550 / 4 / (kind === 'H' ? 2.3 : 1.46), 'turning-point', { signal: 'T' }),
    );
    const filter = [
      ...layers.slice(0, 4),
      { ...layers[4]!, thicknessNm: 2 * layers[4]!.thicknessNm },
      ...layers.slice(6),
    ];
    const setup = setUpRuns(glass, filter, { ...NO_NOISE, signalPercent: 0.3 });
    const runs = 120;
    const block = simulateRuns(setup, 21, 0, runs);
    const light = new WitnessLight(
      glass,
      filter.map(({ material }) => material),
      { wavelengthNm: 550, signal: 'T' },
    );
    const peak = (thicknessNm: ArrayLike<number>) => {
      light.begin(thicknessNm);
      return light.level(thicknessNm[thicknessNm.length - 1]!);
    };
    const planned = peak(filter.map(({ thicknessNm }) => thicknessNm));
    let asMade = 0;
    let shuffled = 0;
    const count = filter.length;
    for (let run = 0; run < runs; run++) {
      asMade += peak(block.thicknessNm.subarray(run * count, (run + 1) * count)) / runs;
      // The same errors, but each layer's taken from another run: nothing can compensate.
      const mixed = filter.map((_, i) => block.thicknessNm[((run + 7 * i) % runs) * count + i]!);
      shuffled += peak(mixed) / runs;
    }
    expect(planned).toBeGreaterThan(0.9);
    expect(planned - asMade).toBeLessThan(0.4 * (planned - shuffled));
  });
});
