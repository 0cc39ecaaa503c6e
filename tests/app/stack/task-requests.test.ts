import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { closedFormStacks } from '../../../src/app/stations/stack/closed-form-stacks.ts';
import {
  offAxisRequest,
  refineRequest,
  searchRequest,
  toleranceRequest,
} from '../../../src/app/stations/stack/task-requests.ts';
import { parse } from '../../../src/base/schema.ts';
import { readBatch } from '../../../src/batch/read-batch.ts';
import { runTask } from '../../../src/compute/task.ts';
import design from '../../../src/compute/tasks/design.ts';
import offaxis from '../../../src/compute/tasks/offaxis.ts';
import tolerance from '../../../src/compute/tasks/tolerance.ts';
import { findMaterial } from '../../../src/materials/library.ts';

const demo = readBatch(
  readFileSync(new URL('../../../demo/eyepiece-field-lens.json', import.meta.url), 'utf8'),
);
const { front } = demo.surfaces;
const wishes = {
  pool: ['mgf2', 'al2o3', 'ta2o5'],
  maxLayers: 3,
  minThicknessNm: 8,
  maxTotalNm: 900,
  seed: 2,
  goal: 'lowest' as const,
};
const errors = { relativePercent: 2, absoluteNm: 1, indexPercent: 0.5, trials: 200, seed: 3 };

describe("the station's questions", () => {
  it('take along how the index of a layer changes', () => {
    const grading = { indexChangePercent: -6 };
    const layers = front.layers.map((layer, i) => (i === 1 ? { ...layer, grading } : layer));
    const graded = { ...front, layers };
    const asked = [
      parse(design.request, refineRequest(demo, graded, 5)).start,
      parse(tolerance.request, toleranceRequest(demo, front, layers, errors)).layers,
      parse(offaxis.request, offAxisRequest(demo, graded, 'front', 10)).layers,
    ];
    for (const sent of asked)
      expect(sent!.map((layer) => layer.grading)).toEqual([undefined, grading, undefined]);
  });

  it('are what the tasks take, with the pockets of the chamber as the most materials', () => {
    const search = parse(design.request, searchRequest(demo, front, wishes, errors));
    expect(search).toMatchObject({
      search: 'synthesize',
      maxLayers: 3,
      maxTotalNm: 900,
      seed: 2,
      maxMaterials: 8,
    });
    expect(search.requirements).toEqual(front.requirements);
    expect(search.errors).toBeUndefined();
    const robust = parse(design.request, searchRequest(demo, front, { ...wishes, goal: 'robust' }, errors));
    expect(robust).toMatchObject({ goal: 'robust', errors: { relativePercent: 2, absoluteNm: 1 } });
    const asked = parse(tolerance.request, toleranceRequest(demo, front, front.layers, errors));
    expect(asked).toMatchObject({ trials: 200, seed: 3, errors: { absoluteNm: 1 } });
    const lens = parse(offaxis.request, offAxisRequest(demo, front, 'front', 10)).lens;
    expect(lens).toEqual({ radiusOfCurvatureMm: 48.5, points: [0, 7.5, 10.5, 12.75, 15] });
  });

  it('leave the lens out where its face is flat, and the cone where it would reach 90°', () => {
    const { frontRadiusMm: _, ...flat } = demo.order.lens;
    const batch = { ...demo, order: { ...demo.order, lens: flat } };
    const request = offAxisRequest(batch, front, 'front', 65);
    expect(request).not.toHaveProperty('lens');
    expect(request).not.toHaveProperty('coneHalfAngleDeg');
  });

  it('keep layers of a group equally thick in a refinement', async () => {
    const layers = front.layers.map((layer, index) => (index === 1 ? layer : { ...layer, group: 1 }));
    const answer = await runTask(design, refineRequest(demo, { ...front, layers }, 5));
    expect(answer.layers[0]!.thicknessNm).toBe(answer.layers[2]!.thicknessNm);
  });

  it('keep held layers in a refinement', async () => {
    const layers = front.layers.map((layer, index) => ({ ...layer, locked: index === 0 }));
    const answer = await runTask(design, refineRequest(demo, { ...front, layers }, 5));
    expect(answer.layers[0]!.thicknessNm).toBe(front.layers[0]!.thicknessNm);
    expect(answer.layers.length).toBe(layers.length);
  });

  it("carry the batch's own materials as tables, which give the same answer as the library's record", async () => {
    const own = { ...demo, materials: [{ ...findMaterial('mgf2')!, id: 'our-mgf2' }] };
    const renamed = front.layers.map((layer) =>
      layer.material === 'mgf2' ? { ...layer, material: 'our-mgf2' } : layer,
    );
    const before = await runTask(tolerance, toleranceRequest(demo, front, front.layers, errors));
    const after = await runTask(tolerance, toleranceRequest(own, front, renamed, errors));
    // A table of 401 points follows the record's smooth curve to far below what a figure shows.
    expect(after.achieved[0]!.value).toBeCloseTo(before.achieved[0]!.value, 4);
    const pool = ['our-mgf2', 'al2o3'];
    expect(
      parse(design.request, searchRequest(own, front, { ...wishes, pool }, errors)).pool[0],
    ).toMatchObject({
      id: 'our-mgf2',
    });
  });
});

describe('closed forms', () => {
  it('come best first, at most two of a kind, each with its source and the time of a run', () => {
    const { candidates: found, remarks } = closedFormStacks(
      demo,
      'front',
      ['mgf2', 'al2o3', 'zro2', 'ta2o5'],
      524,
    );
    expect(remarks).toEqual([]);
    expect(found.length).toBeGreaterThan(3);
    const margins = found.map(({ plan }) => plan.requirements[0]!.marginPercent);
    expect(margins).toEqual(margins.toSorted((one, other) => other - one));
    for (const { form, runS } of found) {
      expect(form!.source).not.toBe('');
      expect(runS).toBeGreaterThan(3600);
      expect(found.filter((other) => other.form!.kind === form!.kind).length).toBeLessThanOrEqual(2);
    }
  });

  it('of one kind come with all solutions, and a kind that the materials do not give says what it takes', () => {
    const zeros = closedFormStacks(demo, 'front', ['mgf2', 'ta2o5'], 524, 'two-layer-zero');
    expect(zeros.candidates.map(({ form }) => form!.kind).toSorted()).toEqual([
      'Two layers, zero at one wavelength, zero 1 of 2',
      'Two layers, zero at one wavelength, zero 2 of 2',
    ]);
    const none = closedFormStacks(demo, 'front', ['mgf2', 'ta2o5'], 524, 'quarter-half-quarter');
    expect(none.candidates).toEqual([]);
    // n1 √(ns / n0) = 1.3846 √1.5205: the inner index for which quarter-half-quarter reflects nothing.
    expect(none.remarks[0]).toContain('an index near 1.71 between');
  });
});
