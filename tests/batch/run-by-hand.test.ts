import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Batch } from '../../src/batch/document.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { readBatch } from '../../src/batch/read-batch.ts';
import { findMaterial } from '../../src/materials/library.ts';

/**
 * A whole run reckoned by hand, as on a spreadsheet: each figure of the plan against plain arithmetic from the batch's own
 * inputs, with the source of the formula beside it. The batch is the invented demo, its walls clean so that the pump-down
 * has a closed form, and its racks plain and turning about the machine's own axis so that the film has one, too.
 */
const batch: Batch = (() => {
  const copy = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));
  delete copy.chamber.outgassing;
  copy.fixture.racks = 1;
  copy.fixture.carrierRadiusMm = 0;
  copy.fixture.tiltDeg = 0;
  for (const source of copy.chamber.sources) source.offsetMm = 0;
  copy.order.quantity = 100;
  copy.order.rejectReservePercent = 5;
  copy.process.aimPercent = 2;
  return copy;
})();
const { load, lot, runs, distributions } = computePlan(batch);
const run = runs[0]!;
const { chamber, process } = batch;
const layers = batch.surfaces.front.layers;
const settings = layers.map(({ material }) => process.materials[material]!);
const aim = 1.02;
const stepsOf = (kind: string) => run.steps.filter((step) => step.kind === kind);

const densityOf = (material: string) => findMaterial(material)!.film!.densityGPerCm3.value;

describe('a run reckoned by hand', () => {
  it('pumps for V/S ln((p0 − Q/S)/(p1 − Q/S)) a stage', () => {
    // K. Jousten (ed.), Handbook of Vacuum Technology: the textbooks' pump-down with a steady load.
    let from = 101_325;
    const seconds = chamber.pumps.map(({ speedM3PerS, loadPaM3PerS, untilPa }) => {
      const lowest = loadPaM3PerS / speedM3PerS;
      const time = (chamber.volumeM3 / speedM3PerS) * Math.log((from - lowest) / (untilPa - lowest));
      from = untilPa;
      return time;
    });
    stepsOf('pump').forEach(({ durationS }, index) => {
      expect(durationS).toBeCloseTo(seconds[index]!, 6);
    });
  });

  it('heats and cools for τ ln of the ratio of the distances', () => {
    // Newton's law of cooling: from 22 to 210 °C towards 240 °C in 28 min, then to 80 °C towards 22 °C in 40 min.
    expect(stepsOf('heat')[0]!.durationS).toBeCloseTo(28 * 60 * Math.log((240 - 22) / (240 - 210)), 6);
    expect(stepsOf('cool')[0]!.durationS).toBeCloseTo(40 * 60 * Math.log((210 - 22) / (80 - 22)), 6);
  });

  it('deposits for the aimed thickness over the rate on the lens, which is the crystal’s over its tooling', () => {
    stepsOf('deposit').forEach(({ durationS }, index) => {
      const { rateNmPerS, crystalTooling } = settings[index]!;
      expect(durationS).toBeCloseTo((aim * layers[index]!.thicknessNm * crystalTooling) / rateNmPerS, 6);
    });
  });

  it('takes as long as the steps on its way: load, rough, heat, soak, layers, cool, vent, unload', () => {
    const sum = (values: readonly number[]) => values.reduce((all, value) => all + value, 0);
    const rough = stepsOf('pump')[0]!.durationS;
    const high = stepsOf('pump')[1]!.durationS;
    const hot = stepsOf('heat')[0]!.durationS + process.soakMin * 60;
    // The first and second layer share the gun but not the pocket; the third comes from the boat: two changes of pocket.
    const between = layers.map((_, index) => {
      const { rampS, soakS, oxygenPa, oxygenSettleS, shutterDelayS } = settings[index]!;
      const power = (index === 0 ? 0 : process.pocketChangeS) + rampS + soakS;
      return Math.max(power, oxygenPa > 0 ? oxygenSettleS : 0) + shutterDelayS;
    });
    const expected =
      process.loadMin * 60 +
      rough +
      Math.max(high, hot) +
      sum(between) +
      sum(stepsOf('deposit').map(({ durationS }) => durationS)) +
      stepsOf('cool')[0]!.durationS +
      (process.ventMin + process.unloadMin) * 60;
    expect(run.totalS).toBeCloseTo(expected, 6);
  });

  it('weighs in ρ d / f of each material, f (n + 1)/2πh² cos^(n+3) on the mean place, and its reserve', () => {
    // Holland & Steckelmacher, Vacuum 2, 346, 1952: a small source on the axis below a plane parallel to it.
    for (const { material, netMassG } of run.charge) {
      const source = chamber.sources.find(({ id }) => id === process.materials[material]!.source)!;
      const h = batch.fixture.heightMm;
      const arrivals = load.places
        .filter(({ use }) => use === 'lens')
        .map(({ xMm, yMm }) => {
          const cosine = h / Math.sqrt(h * h + xMm * xMm + yMm * yMm);
          return ((source.exponent + 1) / (2 * Math.PI * h * h)) * cosine ** (source.exponent + 3);
        });
      const mean = arrivals.reduce((all, value) => all + value, 0) / arrivals.length;
      const spread = distributions[0]!.materials.find((one) => one.material === material)!;
      expect(spread.perMassPerMm2 / mean).toBeCloseTo(1, 6);
      const nm = layers
        .filter((layer) => layer.material === material)
        .reduce((all, { thicknessNm }) => all + thicknessNm, 0);
      // 1 g/cm³ is 1e-3 g/mm³, 1 nm is 1e-6 mm.
      expect(netMassG).toBeCloseTo((densityOf(material) * 1e-3 * (aim * nm * 1e-6)) / mean, 6);
    }
    for (const { massG, netMassG, material } of run.charge)
      expect(massG).toBeCloseTo(netMassG * (1 + process.materials[material]!.chargeReservePercent / 100), 12);
  });

  it('lets the crystal fall by 2 f² / (ρq vq) of its film’s mass per area, to the 2 % that the Z-match differs', () => {
    // G. Sauerbrey, Z. Phys. 155, 206, 1959: Δf = 2 f² Δm / √(ρq μq); √(ρq μq) = 8.834e5 g/(cm² s) for AT-cut quartz.
    run.cuts.forEach((cut, index) => {
      const { crystalTooling } = settings[index]!;
      expect(cut.crystalThicknessNm).toBeCloseTo(aim * layers[index]!.thicknessNm * crystalTooling, 9);
      const massGPerCm2 = densityOf(layers[index]!.material) * cut.crystalThicknessNm * 1e-7;
      expect(Math.abs(cut.crystalDropHz / ((2 * 6e6 ** 2 * massGPerCm2) / 8.834e5) - 1)).toBeLessThan(0.02);
    });
    // What is left of the budget is the budget less all falls so far.
    let left = chamber.crystals.budgetHz;
    for (const { crystalDropHz, crystalLeftHz } of run.cuts) {
      left -= crystalDropHz;
      expect(crystalLeftHz).toBeCloseTo(left, 6);
    }
  });

  it('makes a lot of loads × sides, with cleaning between, and its cost by the hour and the gram', () => {
    expect(lot.lensesToStart).toBe(105);
    expect(lot.loads).toBe(Math.ceil(105 / load.lensesPerLoad));
    expect(lot.runs).toBe(2 * lot.loads);
    const cleanings = Math.floor((lot.runs - 1) / process.cleanEveryRuns);
    expect(lot.totalS).toBeCloseTo(lot.runs * run.totalS + cleanings * process.cleanMin * 60, 6);
    const { machinePerHour, labourPerHour, attendedPercent, lensValue } = batch.money!;
    const hours = lot.totalS / 3600;
    const material = run.charge.reduce(
      (all, { material: id, massG }) => all + lot.runs * massG * (process.materials[id]!.pricePerG ?? 0),
      0,
    );
    const total =
      hours * (machinePerHour + (attendedPercent / 100) * labourPerHour) + material + 5 * lensValue;
    expect(lot.cost!.total).toBeCloseTo(total, 6);
    expect(lot.costPerLens).toBeCloseTo(total / 100, 8);
  });
});
