import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Batch } from '../../src/batch/document.ts';
import { bestAim } from '../../src/batch/plan/best-aim.ts';
import { planPlaces } from '../../src/batch/plan/places-plan.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { computeYield } from '../../src/batch/plan/yield-plan.ts';
import { readBatch } from '../../src/batch/read-batch.ts';

/** The demo with the front alone coated, aimed as its stack is, so that there is less to judge. */
const eyepiece = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));
eyepiece.surfaces.back = 'uncoated';
delete eyepiece.process.aimPercent;

function edited(change: (batch: Batch) => void): Batch {
  const copy = structuredClone(eyepiece);
  change(copy);
  return copy;
}

function quieten(batch: Batch): void {
  batch.monitor.rule = 'crystal';
  batch.monitor.layers = {};
  batch.monitor.noise = {
    signalPercent: 0,
    driftPercentPerMin: 0,
    rateNoisePercent: 0,
    rateBiasPercent: 0,
    crystalPercent: 0,
    shutterDelayS: 0,
    sampleS: 0.05,
  };
}

/** As the demo, with faces so flat that the film hardly changes over a lens, and a limit close to what the stack gives. */
const close = edited((batch) => {
  quieten(batch);
  batch.order.lens.frontRadiusMm = 5000;
  const limit = 1.2 * computePlan(batch).surfaces[0]!.requirements[0]!.valuePercent;
  batch.surfaces.front.requirements = batch.surfaces.front.requirements.map((requirement) => ({
    ...requirement,
    limit,
  }));
});

describe('the best aim', () => {
  it('undoes a stack that was made too thin', async () => {
    const thin = structuredClone(close);
    for (const layer of thin.surfaces.front.layers) layer.thicknessNm *= 0.97;
    const exact = await bestAim(close);
    const aim = await bestAim(thin);
    expect(Math.abs((1 + aim.percent / 100) * 0.97 - (1 + exact.percent / 100))).toBeLessThan(0.004);
  });

  it('makes up for the thin film towards the edge of a strongly curved lens', async () => {
    const plan = computePlan(eyepiece);
    const edge = plan.distributions[0]!.edgePercent;
    const { percent, goodPerLoad, ownGoodPerLoad } = await bestAim(eyepiece);
    expect(edge).toBeLessThan(-5);
    expect(percent).toBeGreaterThan(0);
    expect(percent).toBeLessThan(-edge);
    expect(goodPerLoad).toBeGreaterThan(ownGoodPerLoad);
  });

  it('agrees with the verdict of the places and with the yield where the run makes no errors', async () => {
    const quiet = edited(quieten);
    const { percent, ownGoodPerLoad, goodPerLoad } = await bestAim(quiet);
    for (const [aimPercent, good] of [
      [0, ownGoodPerLoad],
      [percent, goodPerLoad],
    ] as const) {
      const aimed = structuredClone(quiet);
      aimed.process.aimPercent = aimPercent;
      const plan = computePlan(aimed);
      const { lensesPerLoad } = plan.load;
      // Films of one class are judged by their mean: a few places at the border may fall to either side.
      expect(Math.abs(planPlaces(aimed, plan).goodPerLoad - good) / lensesPerLoad).toBeLessThan(0.05);
      const { yield: share } = await computeYield(aimed, 3, {}, plan);
      expect(Math.abs(share - good / lensesPerLoad)).toBeLessThan(0.01);
    }
  });

  it('gives, once taken, the yield that it promises', async () => {
    const { percent, goodPerLoad } = await bestAim(eyepiece);
    const aimed = edited((batch) => {
      batch.process.aimPercent = percent;
    });
    const { lensesPerLoad } = computePlan(aimed).load;
    const { yield: share, yield95 } = await computeYield(aimed, 100);
    expect(share).toBeGreaterThan((await computeYield(eyepiece, 100)).yield);
    expect(goodPerLoad / lensesPerLoad).toBeGreaterThan(yield95[0] - 0.05);
    expect(goodPerLoad / lensesPerLoad).toBeLessThan(yield95[1] + 0.05);
  });

  it('can be given up', async () => {
    await expect(bestAim(eyepiece, { signal: AbortSignal.abort() })).rejects.toThrow(/abort/i);
  });
});
