import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Batch } from '../../src/batch/document.ts';
import { planPlaces } from '../../src/batch/plan/places-plan.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { readBatch } from '../../src/batch/read-batch.ts';

const eyepiece = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));

function edited(change: (batch: Batch) => void): Batch {
  const copy = structuredClone(eyepiece);
  change(copy);
  return copy;
}

/** As the demo, with faces so flat that the film hardly changes over a lens. */
const flat = edited((batch) => {
  batch.order.lens.frontRadiusMm = 5000;
  batch.order.lens.backRadiusMm = -5000;
});

function limitAt(batch: Batch, limit: number): void {
  batch.surfaces.front.requirements = batch.surfaces.front.requirements.map((requirement) => ({
    ...requirement,
    limit,
  }));
}

describe('the places of a load', () => {
  it('have a verdict each, and the good ones are counted on all racks', () => {
    const plan = computePlan(eyepiece);
    const { verdicts, goodPerLoad } = planPlaces(eyepiece, plan);
    expect(verdicts).toHaveLength(plan.load.places.length);
    const good = verdicts.filter(
      ({ centre, edge }, place) => centre && edge && plan.load.places[place]!.use === 'lens',
    );
    expect(goodPerLoad).toBe(good.length * plan.load.racks);
  });

  it('are all good where the film is even and the requirement has room', () => {
    const roomy = structuredClone(flat);
    limitAt(roomy, 2 * eyepiece.surfaces.front.requirements[0]!.limit);
    const plan = computePlan(roomy);
    expect(planPlaces(roomy, plan).goodPerLoad).toBe(plan.load.lensesPerLoad);
  });

  it('are all bad where nothing could meet the requirement', () => {
    const strict = structuredClone(flat);
    limitAt(strict, 0.0001);
    expect(planPlaces(strict, computePlan(strict)).goodPerLoad).toBe(0);
  });

  it('show the spectrum of the stack itself where the film is that of the stack', () => {
    const plan = computePlan(flat);
    const { curves, wavelengthNm } = planPlaces(flat, plan).curves[0]!;
    expect(curves).toHaveLength(4);
    expect(wavelengthNm).toEqual(plan.surfaces[0]!.wavelengthNm);
    const [inner, outer] = curves;
    const own = plan.surfaces[0]!.curves[0]!.mean.R;
    const middle = own.length >> 1;
    for (const { R } of [inner!, outer!]) expect(Math.abs(R[middle]! - own[middle]!)).toBeLessThan(0.003);
  });
});
