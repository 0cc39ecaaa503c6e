import { describe, expect, it } from 'vitest';
import { constantIndex } from '../../../src/design/coated-surface.ts';
import { evaluateRequirements } from '../../../src/design/evaluate.ts';
import { type BlockResult, runTrials, type TrialBlock } from '../../../src/design/tolerance/run-trials.ts';
import { sensitivities } from '../../../src/design/tolerance/sensitivity.ts';
import { type BlockRunner, runTolerance } from '../../../src/design/tolerance/tolerance.ts';
import { type LayerErrors, type TrialPlan, trialPlan } from '../../../src/design/tolerance/trial-plan.ts';
import { percentile } from '../../../src/math/percentile.ts';
import { Random } from '../../../src/math/random.ts';
import { percentileInPlace, selectInPlace } from '../../../src/math/select.ts';
import { AIR, FILMS, GLASS, reflectance } from '../support/yardstick.ts';

const film = (id: string) => FILMS.find((one) => one.id === id)!.index;
const surface = {
  incident: AIR,
  layers: [
    { index: film('middle'), thicknessNm: 79.3 },
    { index: film('highish'), thicknessNm: 123.3 },
    { index: film('low'), thicknessNm: 94.3 },
  ],
  substrate: GLASS,
};
const none: LayerErrors = { relativePercent: 0, absoluteNm: 0, indexPercent: 0 };
const inline: BlockRunner = async (plan, blocks) => blocks.map((block) => runTrials(plan, block));
const plan = (errors: Partial<LayerErrors>, change = {}, seed = 1) =>
  trialPlan(surface, [reflectance({ limit: 0.2, ...change })], { ...none, ...errors }, seed);

describe('selectInPlace', () => {
  it('finds what sorting finds, ties and all', () => {
    const random = new Random(4);
    for (let size = 1; size < 60; size++) {
      const values = Float64Array.from({ length: size }, () => random.integer(20));
      const sorted = values.toSorted();
      for (const k of [0, size >> 1, size - 1]) expect(selectInPlace(values.slice(), k)).toBe(sorted[k]);
      for (const percent of [0, 5, 33.3, 50, 95, 100])
        expect(percentileInPlace(values.slice(), percent)).toBeCloseTo(percentile(sorted, percent), 12);
    }
  });
});

describe('runTolerance', () => {
  it('yields everything or nothing where there are no errors', async () => {
    const value = evaluateRequirements([reflectance()], surface)[0]!.value;
    const met = await runTolerance(plan({}, { limit: value * 1.01 }), 100, inline);
    expect(met.yield).toBe(1);
    expect(met.yield95[0]).toBeGreaterThan(0.96);
    const missed = await runTolerance(plan({}, { limit: value * 0.99 }), 100, inline);
    expect(missed.yield).toBe(0);
    expect(missed.bands['5']).toEqual(missed.bands['95']);
  });

  it('gives the same numbers whatever order the blocks run in, and others for another seed', async () => {
    const backward: BlockRunner = async (shared, blocks) =>
      [...blocks]
        .reverse()
        .map((block) => runTrials(shared, block))
        .reverse();
    const one = await runTolerance(plan({ relativePercent: 3 }), 1700, inline);
    expect(await runTolerance(plan({ relativePercent: 3 }), 1700, backward)).toEqual(one);
    expect((await runTolerance(plan({ relativePercent: 3 }, {}, 2), 1700, inline)).bands['50']).not.toEqual(
      one.bands['50'],
    );
  });

  it('has the variance of first-order propagation for small errors', async () => {
    // One wavelength, aside of the minimum: R moves linearly with the thicknesses there.
    const line = trialPlan(surface, [reflectance({ bandNm: [450, 450] })], { ...none, absoluteNm: 0.05 }, 5);
    const trials = 20_000;
    const block: TrialBlock = { block: 0, trials, keepsSpectra: true };
    const { reflectance: spectra } = runTrials(line, block) as BlockResult;
    const size = line.channels[line.shownChannel]!.wavelengthNm.length;
    expect(size).toBe(1);
    const mean = spectra.reduce((sum, value) => sum + value, 0) / trials;
    const variance = spectra.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (trials - 1);
    const slopes = sensitivities(line).map(({ valuePercentPerNm }) => valuePercentPerNm[0]! / 100);
    const expected = slopes.reduce((sum, slope) => sum + (slope * 0.05) ** 2, 0);
    // The sample variance of a normal quantity has the relative sigma sqrt(2 / trials) = 1 %; five sigma.
    expect(Math.abs(variance / expected - 1)).toBeLessThan(0.05);
  });

  it('takes an error of index as one of n', async () => {
    const errors = { ...none, indexPercent: 1 };
    const single = {
      incident: constantIndex(1),
      layers: [{ index: constantIndex(1.8), thicknessNm: 70 }],
      substrate: constantIndex(1.5),
    };
    const shared = trialPlan(single, [reflectance({ bandNm: [550, 550] })], errors, 5);
    const { reflectance: spectra } = runTrials(shared, { block: 0, trials: 20_000, keepsSpectra: true });
    const at = (n: number) =>
      evaluateRequirements([reflectance({ bandNm: [550, 550] })], {
        ...single,
        layers: [{ index: constantIndex(n), thicknessNm: 70 }],
      })[0]!.value / 100;
    const slope = (at(1.801) - at(1.799)) / 0.002;
    const mean = spectra.reduce((sum, value) => sum + value, 0) / spectra.length;
    const sigma = Math.sqrt(spectra.reduce((sum, value) => sum + (value - mean) ** 2, 0) / spectra.length);
    // First order leaves a curvature of the order of 1 %; sampling adds 0.5 %.
    expect(Math.abs(sigma / Math.abs(slope * 0.018) - 1)).toBeLessThan(0.04);
  });

  it('yields less as errors grow', async () => {
    const yields = [];
    for (const relativePercent of [0.5, 2, 5])
      yields.push((await runTolerance(plan({ relativePercent }), 1000, inline)).yield);
    expect(yields[0]!).toBeGreaterThan(yields[1]!);
    expect(yields[1]!).toBeGreaterThan(yields[2]!);
  });

  it('orders its bands and holds nine tenths of the trials between them', async () => {
    const shared: TrialPlan = plan({ relativePercent: 2 });
    const { bands, wavelengthNm } = await runTolerance(shared, 2000, inline);
    const { reflectance: fresh } = runTrials(shared, { block: 99, trials: 2000, keepsSpectra: true });
    let inside = 0;
    wavelengthNm.forEach((_, i) => {
      expect(bands['5'][i]!).toBeLessThan(bands['50'][i]!);
      expect(bands['50'][i]!).toBeLessThan(bands['95'][i]!);
      for (let at = i; at < fresh.length; at += wavelengthNm.length)
        if (fresh[at]! >= bands['5'][i]! && fresh[at]! <= bands['95'][i]!) inside++;
    });
    // Sampling of both percentiles and of the new trials: about 0.8 % in all; five sigma.
    expect(Math.abs(inside / fresh.length - 0.9)).toBeLessThan(0.04);
  });

  it('counts the second surface of a plate: R is higher, and its layers have errors too', async () => {
    const plate = { thicknessMm: 2, backLayers: surface.layers.slice(2), exit: AIR };
    const shared = trialPlan({ ...surface, plate }, [reflectance()], { ...none, relativePercent: 2 }, 1);
    const { bands, sensitivity } = await runTolerance(shared, 200, inline);
    const single = await runTolerance(plan({ relativePercent: 2 }), 200, inline);
    expect(sensitivity).toHaveLength(4);
    bands['50'].forEach((value, i) => {
      expect(value).toBeGreaterThan(single.bands['50'][i]!);
    });
  });
});
