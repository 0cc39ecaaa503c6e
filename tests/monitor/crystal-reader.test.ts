import { describe, expect, it } from 'vitest';
import type { CrystalStock } from '../../src/monitor/crystal-stock.ts';
import { Rehearsal } from '../../src/monitor/rehearsal.ts';
import { NO_NOISE, type RunNoise } from '../../src/monitor/run-noise.ts';
import { type CutLayer, setUpRuns } from '../../src/monitor/run-setup.ts';
import { runStatistics } from '../../src/monitor/run-statistics.ts';
import { joinBlocks, simulateRuns } from '../../src/monitor/simulate-runs.ts';
import { constantIndex } from './constant-index.ts';
import { plainWitness as witness } from './plain-witness.ts';

/** Invented: three layers of 100 nm, each of which takes 1000 Hz. */
const layers = [0, 1, 2].map(
  (index): CutLayer => ({
    ...{ material: constantIndex(index === 1 ? 1.38 : 2.1), thicknessNm: 100, wavelengthNm: 550 },
    ...{ signal: 'R', rule: 'crystal', rateNmPerS: 0.5 },
  }),
);
const plannedNm = layers.map(({ thicknessNm }) => thicknessNm);

function statistics(crystals: Partial<CrystalStock>, noise: Partial<RunNoise> = {}, runs = 2) {
  const stock = { budgetHz: 3500, fallHzPerNm: [10, 10, 10], ...crystals };
  const setup = setUpRuns(witness, layers, { ...NO_NOISE, ...noise }, stock);
  return runStatistics(simulateRuns(setup, 5, 0, runs), plannedNm);
}

describe('crystals in a virtual run', () => {
  it('last where the budget covers all layers, and are not spoken of where none are given', () => {
    const nothing = { runsLost: 0, lost: [0, 0, 0], runsOverBudget: 0, overBudget: [0, 0, 0] };
    expect(statistics({}).crystals).toEqual(nothing);
    const without = runStatistics(simulateRuns(setUpRuns(witness, layers, NO_NOISE), 5, 0, 2), plannedNm);
    expect(without.crystals).toBeUndefined();
  });

  it('are changed before a layer that would take them beyond the budget, as far as the holder goes', () => {
    expect(statistics({ budgetHz: 1500 }).crystals!.runsOverBudget).toBe(0);
    expect(statistics({ budgetHz: 1500, count: 2 }).crystals!.overBudget).toEqual([0, 0, 1]);
    expect(statistics({ budgetHz: 900 }).crystals!.overBudget).toEqual([1, 1, 1]);
    expect(statistics({ usedHz: 3400, count: 1 }).crystals!.overBudget).toEqual([1, 1, 1]);
  });

  it('fall in the layer in which their life ends, which then goes by set rate and clock', () => {
    // Life 80 % of 3500 Hz = 2800 Hz: lost at 80 nm of the third layer; a rate 10 % too high goes unseen for 20 nm.
    const { layers: errors, crystals } = statistics(
      { count: 1 },
      { crystalLifePercent: 80, rateBiasPercent: 10 },
    );
    expect(crystals!.lost).toEqual([0, 0, 1]);
    expect(crystals!.runsLost).toBe(1);
    expect(errors[0]!.mean).toBeCloseTo(0, 6);
    expect(errors[2]!.mean).toBeCloseTo(2, 1);
  });

  it('are replaced before the next layer where the holder has another one', () => {
    const life = { crystalLifePercent: 40 }; // 1400 Hz: lost at 40 nm of the second layer
    expect(statistics({}, life).crystals!.lost).toEqual([0, 1, 0]);
    expect(statistics({ count: 1 }, life).crystals!.lost).toEqual([0, 1, 1]);
  });

  it('are lost in the share of runs that the normal distribution says', () => {
    // Life 3500 ± 700 Hz against a load of 3000 Hz at the end: P(z < -5/7) = 0.2375 (tables of the normal distribution).
    const runs = 4000;
    const { crystals } = statistics({}, { crystalLifePercent: 100, crystalLifeScatterPercent: 20 }, runs);
    const sigma = Math.sqrt((0.2375 * 0.7625) / runs);
    expect(Math.abs(crystals!.runsLost - 0.2375)).toBeLessThan(4 * sigma);
  });

  it('read off and jitter in proportion to what they have used', () => {
    const shifted = statistics({}, { crystalAgedShiftPercent: 7 });
    // At the end of layer j the crystal has used j * 1000 / 3500: it reads high by j * 2 %, and cuts early.
    for (const [index, { mean }] of shifted.layers.entries())
      expect(mean).toBeCloseTo(100 / (1 + 0.02 * (index + 1)) - 100, 0);
    const jittery = statistics({}, { crystalAgedNoiseNm: 0.5 }, 400);
    expect(jittery.layers[2]!.sigma).toBeGreaterThan(1.5 * jittery.layers[0]!.sigma);
  });

  it('leave runs without ageing as they were, bit for bit, and any split gives the same', () => {
    const noise = { ...NO_NOISE, crystalPercent: 1, rateNoisePercent: 5 };
    const stock = { budgetHz: 1500, fallHzPerNm: [10, 10, 10] };
    const bare = simulateRuns(setUpRuns(witness, layers, noise), 7, 0, 4);
    const held = simulateRuns(setUpRuns(witness, layers, noise, stock), 7, 0, 4);
    expect(held.thicknessNm).toEqual(bare.thicknessNm);
    const ageing = setUpRuns(
      witness,
      layers,
      { ...noise, crystalLifePercent: 60, crystalAgedNoiseNm: 1 },
      stock,
    );
    const whole = simulateRuns(ageing, 7, 0, 6);
    expect(joinBlocks([simulateRuns(ageing, 7, 4, 6), simulateRuns(ageing, 7, 0, 4)])).toEqual(whole);
  });

  it('show in a rehearsal what is left, and that they are lost', () => {
    const stock = { budgetHz: 3500, fallHzPerNm: [10, 10, 10] };
    const noise = { ...NO_NOISE, crystalLifePercent: 20 }; // 700 Hz: lost at 70 nm
    const played = new Rehearsal(setUpRuns(witness, layers, noise, stock), 1);
    played.openShutter();
    played.advance(120);
    expect(played.readings.crystalFailed).toBe(false);
    expect(played.readings.crystalLeftHz).toBeCloseTo(3500 - 600, 6);
    played.advance(40);
    expect(played.readings.crystalFailed).toBe(true);
  });

  it.each([
    [{ budgetHz: 0 }, 'crystals.budgetHz'],
    [{ usedHz: 4000 }, 'crystals.usedHz'],
    [{ count: 0 }, 'crystals.count'],
    [{ fallHzPerNm: [10, 10] }, 'crystals.fallHzPerNm'],
    [{ fallHzPerNm: [10, -1, 10] }, 'crystals.fallHzPerNm[1]'],
  ])('are refused out of range: %j', (change, path) => {
    expect(() => statistics(change)).toThrow(expect.objectContaining({ path }));
  });
});
