import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Batch } from '../../src/batch/document.ts';
import { fingerprintOf } from '../../src/batch/fingerprint.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { computeYield } from '../../src/batch/plan/yield-plan.ts';
import { readBatch } from '../../src/batch/read-batch.ts';
import { planTables } from '../../src/batch/traveller/tables.ts';
import { travellerPage } from '../../src/batch/traveller/traveller-html.ts';
import { runTask } from '../../src/compute/task.ts';
import spectrum from '../../src/compute/tasks/spectrum.ts';

const file = readFileSync('demo/eyepiece-field-lens.json', 'utf8');
const even = readBatch(file);

/** The eyepiece lens with a zirconia layer that loses index as it grows (invented figure). */
function withGrading(grading: object): Batch {
  const document = JSON.parse(file);
  document.surfaces.front.layers[1].grading = grading;
  return readBatch(JSON.stringify(document));
}
const graded = withGrading({ indexChangePercent: -6 });

describe('a batch with a graded layer', () => {
  const [plan, before] = [computePlan(graded), computePlan(even)];

  it('has the spectrum that the task gives for the same stack', async () => {
    const { wavelengthNm, curves, layers } = plan.surfaces[0]!;
    const answer = await runTask(spectrum, {
      layers: graded.surfaces.front.layers.map(({ material, thicknessNm, grading }) => ({
        material,
        thicknessNm,
        ...(grading && { grading }),
      })),
      substrate: graded.order.lens.substrate,
      wavelengthNm: [...wavelengthNm],
    });
    curves[0]!.mean.R.forEach((value, w) => {
      expect(value).toBeCloseTo(answer.mean.R[0]![w]!, 6);
    });
    expect(layers[1]!.grading).toEqual({ indexChangePercent: -6 });
  });

  it('differs from the even one in verdict, colour and the levels of the cut table', () => {
    const value = (one: typeof plan) => one.surfaces[0]!.requirements[0]!.valuePercent;
    expect(Math.abs(value(plan) - value(before))).toBeGreaterThan(0.01);
    expect(plan.surfaces[0]!.residual.srgb).not.toBe(before.surfaces[0]!.residual.srgb);
    const [cuts, cutsBefore] = [plan.runs[0]!.cuts, before.runs[0]!.cuts];
    expect(cuts[0]!.endLevel).toBe(cutsBefore[0]!.endLevel);
    expect(Math.abs(cuts[1]!.endLevel - cutsBefore[1]!.endLevel)).toBeGreaterThan(1e-3);
    // What lies below the last layer is seen through it.
    expect(cuts[2]!.startLevel).toBeCloseTo(cuts[1]!.endLevel, 12);
  });

  it('weighs and takes as long as the even one', () => {
    expect(plan.lot.chargeG).toBe(before.lot.chargeG);
    expect(plan.lot.totalS).toBe(before.lot.totalS);
  });

  it('has a yield of its own, whose middle spectrum is moved by the grading as the planned one is', async () => {
    const { surfaces } = await computeYield(graded, 200);
    const { wavelengthNm, percentile, sensitivity } = surfaces[0]!;
    expect(sensitivity).toHaveLength(3);
    const middle = Math.floor(wavelengthNm.length / 2);
    const ofEven = (await computeYield(even, 200)).surfaces[0]!.percentile.p50[middle]!;
    const near = plan.surfaces[0]!.wavelengthNm.findIndex((nm) => nm >= wavelengthNm[middle]!);
    const planned = (one: typeof plan) => one.surfaces[0]!.curves[0]!.mean.R[near]!;
    const moved = (percentile.p50[middle]! - ofEven) / (planned(plan) - planned(before));
    expect(moved).toBeGreaterThan(0.7);
    expect(moved).toBeLessThan(1.3);
  });

  it('says so on the traveller and in its tables', () => {
    const origin = { version: '1.2.3', fingerprint: fingerprintOf(graded) };
    expect(travellerPage(graded, plan, origin)).toContain('−6 % outwards');
    expect(travellerPage(even, before, origin)).not.toContain('outwards');
    const table = planTables(graded, plan).find(({ name }) => name === 'stack')!;
    expect(table.csv.split(/\r?\n/)[2]).toMatch(/,-6$/);
  });

  it.each([
    [{ indexChangePercent: 70 }, 'surfaces.front.layers[1].grading.indexChangePercent: 70 % is above 50 %'],
    [{ indexChange: 7 }, 'surfaces.front.layers[1].grading.indexChange'],
  ])('%j is refused with one sentence at its place', (grading, sentence) => {
    expect(() => withGrading(grading)).toThrow(sentence);
  });
});
