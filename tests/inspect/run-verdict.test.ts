import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { designChanges, designNote } from '../../src/batch/design-changes.ts';
import type { Batch, MeasuredSpectrum, RunRecord } from '../../src/batch/document.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { readBatch } from '../../src/batch/read-batch.ts';
import { batchAsRun, coatingAsRun, plannedRun } from '../../src/batch/run-planned.ts';
import { judgeRun } from '../../src/inspect/judge-run.ts';
import { asPlanned, predictCoating, reachOf } from '../../src/inspect/predict-coating.ts';
import { deviationOf } from '../../src/inspect/run-times.ts';
import { isSameChamber, pointName, toolingHistories } from '../../src/inspect/tooling-history.ts';
import { resolveIndex } from '../../src/materials/index-spec.ts';
import { computeSpectrum } from '../../src/optics/spectrum.ts';

const demo = () =>
  readBatch(readFileSync(new URL('../../demo/eyepiece-field-lens.json', import.meta.url), 'utf8'));

/** The demo aimed at its stack itself, as the stack's own plan is. */
function withoutAim(): Batch {
  const batch = demo();
  delete batch.process.aimPercent;
  return batch;
}

/** A flat reflectance over the demo's band, which asks for a mean of at most 0.4 % at 0° and 25°. */
function flat(percent: number, incidenceDeg: number, place: string): MeasuredSpectrum {
  return {
    ...{
      id: place.replaceAll(/\W/g, '-'),
      name: `${place}.csv`,
      side: 'front',
      quantity: 'R',
      place,
      incidenceDeg,
    },
    ...{ wavelengthNm: [420, 680], values: [percent / 100, percent / 100] },
  };
}

/** The default uncertainty is too small to bring anything close to its limit. */
function runWith(spectra: MeasuredSpectrum[], uncertaintyPercent = 0.001): RunRecord {
  return {
    ...{ id: 'run-1', number: 1, side: 'front', startedAt: '', operator: '' },
    ...{ spectra, uncertaintyPercent },
  };
}

describe('the verdict on a run', () => {
  const of = (spectra: MeasuredSpectrum[], uncertainty?: number) =>
    judgeRun(demo(), runWith(spectra, uncertainty));

  it('is a pass where every requirement is met at each of its angles', () => {
    const verdict = of([flat(0.3, 0, 'centre'), flat(0.35, 25, 'centre, tilted')]);
    expect(verdict.kind).toBe('pass');
    expect(verdict.sentence).toBe('every requirement is met at centre; centre, tilted');
  });

  it('fails where one place fails, and names it', () => {
    const verdict = of([flat(0.3, 0, 'centre'), flat(0.35, 25, 'centre, tilted'), flat(0.5, 0, 'edge')]);
    expect(verdict.kind).toBe('fail');
    expect(verdict.sentence).toMatch(/^missed: R mean [^;]*, 0° at edge$/);
  });

  it('is too close where a place is, within twice the uncertainty', () => {
    expect(of([flat(0.3, 0, 'centre'), flat(0.3, 25, 'edge')], 0.04).kind).toBe('pass');
    const close = of([flat(0.35, 0, 'centre'), flat(0.35, 25, 'edge')], 0.04);
    expect(close.kind).toBe('too-close');
    expect(close.sentence).toMatch(/^too close to call: R mean .* at centre; R mean .* at edge$/);
  });

  it('passes nothing while no uncertainty is stated, and says so; what lies beyond its limit fails as read', () => {
    for (const kind of ['no-uncertainty', 'fail'] as const) {
      const percent = kind === 'fail' ? 0.5 : 0.3;
      const verdict = of([flat(percent, 0, 'centre')], 0);
      expect(verdict.kind).toBe(kind);
      expect(verdict.sentence).toMatch(/not measured: R mean .*, 25°$/);
    }
    expect(of([flat(0.3, 0, 'centre'), flat(0.3, 25, 'edge')], 0).sentence).toMatch(
      /^within the limit as read, but no pass while no uncertainty of a reading is stated: R mean .* at centre; R mean .* at edge$/,
    );
  });

  it('lists beside the worst what else is short of a pass', () => {
    const verdict = of([flat(0.5, 0, 'centre'), flat(0.4, 0, 'edge')]);
    expect(verdict.sentence).toBe(
      'missed: R mean ≤ 0.4 %, 430–670 nm, 0° at centre. Also too close to call: R mean ≤ 0.4 %, 430–670 nm, 0° at edge. Also not measured: R mean ≤ 0.4 %, 430–670 nm, 25°',
    );
  });

  it('stays open where an angle was not measured, or nothing was', () => {
    const verdict = of([flat(0.3, 0, 'centre')]);
    expect(verdict).toMatchObject({ kind: 'open' });
    expect(verdict.sentence).toMatch(/^not measured: R mean .*, 25°$/);
    const turned = { ...flat(0.3, 0, 'centre'), quantity: 'T' as const };
    expect(of([turned]).sentence).toMatch(/^not measured: R mean .*, 0°; R mean .*, 25°$/);
    expect(of([])).toEqual({ kind: 'open', sentence: 'nothing is measured yet' });
    const batch = demo();
    batch.surfaces.front.requirements = [];
    expect(judgeRun(batch, runWith([])).sentence).toBe('there is no requirement to judge by');
  });
});

describe('what was planned for a run', () => {
  const planned = (batch: Batch) => plannedRun(batch, computePlan(batch), 'front')!;

  it('keeps layers with their sensors, toolings, lenses and the times of the stages', () => {
    const batch = demo();
    const plan = computePlan(batch);
    const kept = planned(batch);
    expect(kept.layers).toEqual([
      { material: 'al2o3', thicknessNm: 82, sensor: 'witness' },
      { material: 'zro2', thicknessNm: 125, sensor: 'witness' },
      { material: 'mgf2', thicknessNm: 96, sensor: 'crystal' },
    ]);
    expect(kept.tooling.mgf2).toEqual({ source: 'boat-1', crystal: 1.1, witness: 1 });
    expect(plan.lot.loads).toBeGreaterThan(1);
    expect(kept.lenses).toBe(plan.load.lensesPerLoad);
    const few = { ...batch, order: { ...batch.order, quantity: 5, rejectReservePercent: 0 } };
    expect(planned(few).lenses).toBe(5);
    expect(kept.totalMin).toBeCloseTo(plan.runs[0]!.totalS / 60, 0);
    const deposits = plan.runs[0]!.steps.filter(({ kind }) => kind === 'deposit');
    const [first, last] = [deposits[0]!, deposits.at(-1)!];
    expect(kept.coatMin).toBeGreaterThanOrEqual((last.startS + last.durationS - first.startS) / 60 - 0.1);
    expect(kept.pumpMin + kept.coatMin + kept.coolMin).toBeLessThan(kept.totalMin);
    expect(plannedRun(batch, plan, 'back') === undefined).toBe(batch.surfaces.back === 'uncoated');
  });

  it('stays what the run is held against when the stack is changed', () => {
    const batch = demo();
    const run = { ...runWith([]), planned: planned(batch) };
    expect(designChanges(batch, run)).toEqual([]);
    batch.surfaces.front.layers[1]!.thicknessNm = 130;
    expect(designChanges(batch, run)).toEqual(['the layers']);
    expect(coatingAsRun(batch, run).layers.map(({ thicknessNm }) => thicknessNm)).toEqual([82, 125, 96]);
    batch.surfaces.front.layers.pop();
    expect(designChanges(batch, run)).toEqual(['the layers']);
    expect(designChanges(batch, runWith([]))).toBeUndefined();
    expect(coatingAsRun(batch, runWith([]))).toBe(batch.surfaces.front);
  });

  it('keeps glass, grading and the medium in front too, and names each that has changed since', () => {
    const batch = demo();
    const { front } = batch.surfaces;
    front.layers[1]!.grading = { indexChangePercent: -4 };
    const run = { ...runWith([]), planned: planned(batch) };
    const before = structuredClone(batch);
    const { fingerprint } = run.planned;
    expect(designNote(batch, run)).toEqual({
      kind: 'same',
      sentence: `Glass, stack, tooling and times stand as they did when run 1 was logged (sheet ${fingerprint}).`,
    });
    batch.order.lens.substrate = '620364';
    front.incident = 1.33;
    delete front.layers[1]!.grading;
    batch.process.aimPercent = 3;
    expect(designChanges(batch, run)).toEqual([
      expect.stringMatching(/^the glass \(then Glass 517642, .*; now Glass 620364, .*\)$/),
      'the medium in front of the coating',
      'the layers',
      'the aim',
    ]);
    expect(designNote(batch, run)).toMatchObject({ kind: 'changed' });
    expect(designNote(batch, run).sentence).toContain(`planned then (sheet ${fingerprint})`);
    const light = (document: Batch) =>
      predictCoating(document, coatingAsRun(document, run), asPlanned(coatingAsRun(document, run)));
    expect(light(batchAsRun(batch, run))).toEqual(light(batchAsRun(before, run)));
    expect(light(batchAsRun(before, run)).results).toEqual(
      predictCoating(before, before.surfaces.front, asPlanned(before.surfaces.front)).results,
    );
  });

  it('is told from a change elsewhere in the batch by the fingerprint, and from a plan that nobody kept', () => {
    const batch = demo();
    const run = { ...runWith([]), planned: planned(batch) };
    batch.process.materials.zro2 = { ...batch.process.materials.zro2!, rateNmPerS: 0.123 };
    expect(designNote(batch, run)).toMatchObject({ kind: 'same' });
    expect(designNote(batch, run).sentence).toMatch(
      new RegExp(`something else of the batch has changed since \\(sheet ${run.planned.fingerprint} then, `),
    );
    expect(designNote(batch, runWith([])).kind).toBe('unknown');
  });

  it("is that of a back with a coating of its own on the back's runs, and leaves the front alone", () => {
    const batch = demo();
    batch.surfaces.back = structuredClone(batch.surfaces.front);
    const run: RunRecord = {
      ...runWith([]),
      side: 'back',
      planned: plannedRun(batch, computePlan(batch), 'back')!,
    };
    batch.surfaces.back.layers.pop();
    expect(designChanges(batch, run)).toEqual(['the layers']);
    expect(coatingAsRun(batch, run).layers).toHaveLength(3);
    expect(batchAsRun(batch, run).surfaces.front).toBe(batch.surfaces.front);
  });

  it('shows a stage that took a tenth longer or more, and any missing lens, as a deviation', () => {
    const run = {
      planned: { ...planned(demo()), pumpMin: 40, coatMin: 50, coolMin: 0, lenses: 60 },
      actual: {},
    };
    const at = (actual: NonNullable<RunRecord['actual']>) => ({ ...run, actual });
    expect(deviationOf(at({ pumpMin: 44 }), 'pumpMin')).toEqual({ by: 4, percent: 10, isNamed: true });
    expect(deviationOf(at({ coatMin: 48 }), 'coatMin')).toEqual({ by: -2, percent: -4, isNamed: false });
    expect(deviationOf(at({ coolMin: 3 }), 'coolMin')).toEqual({ by: 3, percent: undefined, isNamed: true });
    expect(deviationOf(at({ coolMin: 0 }), 'coolMin')).toEqual({ by: 0, percent: undefined, isNamed: false });
    expect(deviationOf(at({ lenses: 59 }), 'lenses')?.isNamed).toBe(true);
    expect(deviationOf(at({ lenses: 60 }), 'lenses')?.isNamed).toBe(false);
    expect(deviationOf({ planned: run.planned }, 'lenses')).toBeUndefined();
    expect(deviationOf(run, 'pumpMin')).toBeUndefined();
    expect(deviationOf({ actual: { pumpMin: 3 } }, 'pumpMin')).toBeUndefined();
  });
});

describe('a coating that is expected', () => {
  it('is the planned one where all factors are 1', () => {
    const batch = withoutAim();
    const [plan] = computePlan(batch).surfaces;
    const same = predictCoating(
      batch,
      batch.surfaces.front,
      [1, 1, 1].map((thicknessFactor) => ({ thicknessFactor })),
    );
    expect(same.results[0]!.value).toBe(plan!.requirements[0]!.valuePercent);
    expect(same.curves.map(({ mean }) => [...mean.R])).toEqual(plan!.curves.map(({ mean }) => [...mean.R]));
  });

  it('is that of a stack with such thicknesses; an index is scaled without its absorption', () => {
    const batch = withoutAim();
    const thick = structuredClone(batch);
    thick.surfaces.front.layers[1]!.thicknessNm *= 1.05;
    const [plan] = computePlan(thick).surfaces;
    const factors = [1, 1.05, 1].map((thicknessFactor) => ({ thicknessFactor }));
    const built = predictCoating(batch, batch.surfaces.front, factors);
    expect(built.results[0]!.value).toBeCloseTo(plan!.requirements[0]!.valuePercent, 12);
    const denser = predictCoating(batch, batch.surfaces.front, [
      { thicknessFactor: 1, indexFactor: 1.02 },
      ...factors.slice(1),
    ]);
    expect(denser.curves[0]!.mean.R).not.toEqual(built.curves[0]!.mean.R);
    expect(denser.results[0]!.value).not.toBeCloseTo(built.results[0]!.value, 4);
    const { wavelengthNm } = denser;
    const [al2o3, ...others] = ['al2o3', 'zro2', 'mgf2'].map((id) => resolveIndex(id, wavelengthNm));
    const stack = {
      ...{
        wavelengthNm,
        incident: resolveIndex(1, wavelengthNm),
        substrate: resolveIndex('517642', wavelengthNm),
      },
      layers: [{ ...al2o3!, n: al2o3!.n.map((n) => 1.02 * n) }, ...others],
    };
    const [light] = computeSpectrum(stack, Float64Array.of(82, 125 * 1.05, 96), { incidenceRad: [0] });
    denser.curves[0]!.mean.R.forEach((value, w) => {
      expect(value).toBeCloseTo(light!.mean.R[w]!, 12);
    });
  });
});

describe('a run with an aim', () => {
  it('is held against the film that was aimed at, whatever the aim is later', () => {
    const batch = demo();
    batch.process.aimPercent = 2;
    const run = { ...runWith([]), planned: plannedRun(batch, computePlan(batch), 'front')! };
    const { surfaces } = batch;
    const ones = asPlanned(surfaces.front);
    delete batch.process.aimPercent;
    expect(designChanges(batch, run)).toEqual(['the aim']);
    const aimed = predictCoating(batchAsRun(batch, run), coatingAsRun(batch, run), ones);
    const thick = predictCoating(
      batch,
      surfaces.front,
      ones.map(() => ({ thicknessFactor: 1.02 })),
    );
    expect(aimed.results[0]!.value).toBeCloseTo(thick.results[0]!.value, 12);
    expect(batchAsRun(batch, runWith([]))).toBe(batch);
  });
});

describe('the wavelengths of an expectation', () => {
  it('are those of all spectra together', () => {
    const over = (...wavelengthNm: number[]) => ({ ...flat(0.3, 0, 'centre'), wavelengthNm });
    expect(reachOf([over(420, 680)])).toEqual([420, 680]);
    expect(reachOf([over(420, 500, 680), over(400, 450), over(500, 600)])).toEqual([400, 680]);
    expect(reachOf([])).toBeUndefined();
  });

  it('reach over what was measured where that is more than the chart of the band', () => {
    const batch = demo();
    const factors = [1, 1, 1].map((thicknessFactor) => ({ thicknessFactor }));
    const of = (reachNm?: readonly [number, number]) =>
      predictCoating(batch, batch.surfaces.front, factors, reachNm).wavelengthNm;
    const usual = of();
    expect([...of([500, 600])]).toEqual([...usual]);
    expect([of([350, 900])[0], of([350, 900]).at(-1)]).toEqual([350, 900]);
    expect([of([350, 600])[0], of([350, 600]).at(-1)]).toEqual([350, usual.at(-1)]);
  });
});

describe('the history of the tooling', () => {
  const correction = (material: string, after: number) => ({
    ...{ material, sensor: 'witness' as const, before: 1, after, sigma: 0.002 },
  });

  it('is parted by material, source and sensor, in the order of the runs', () => {
    const batch = demo();
    const run = (number: number, corrections: RunRecord['corrections']): RunRecord => ({
      ...runWith([]),
      ...{ id: `run-${number}`, number, corrections: corrections! },
    });
    batch.runs = [
      run(2, [correction('zro2', 0.98)]),
      run(1, [{ ...correction('zro2', 0.99), noted: true }, correction('al2o3', 1.01)]),
      run(3, [{ ...correction('zro2', 0.97), source: 'gun-2' }]),
      { ...runWith([]), id: 'run-4', number: 4 },
    ];
    expect(
      toolingHistories([batch]).map(({ material, source, points }) => [
        material,
        source,
        points.map((p) => [p.run, p.tooling, p.carried]),
      ]),
    ).toEqual([
      [
        'zro2',
        'gun-1',
        [
          [1, 0.99, false],
          [2, 0.98, true],
        ],
      ],
      ['al2o3', 'gun-1', [[1, 1.01, true]]],
      ['zro2', 'gun-2', [[3, 0.97, true]]],
    ]);
  });

  it('has the source that was planned for the run, else the one of now, and reads a run without a time as the first', () => {
    const batch = demo();
    const kept = { ...plannedRun(batch, computePlan(batch), 'front')! };
    const run = (number: number, startedAt: string, tooling?: typeof kept.tooling): RunRecord => ({
      ...runWith([]),
      ...{ id: `run-${number}`, number, startedAt, corrections: [correction('zro2', number)] },
      ...(tooling === undefined ? {} : { planned: { ...kept, tooling } }),
    });
    const gun7 = { source: 'gun-7', crystal: 1, witness: 1 };
    batch.runs = [
      run(1, '1969-07-20T20:17:00Z', { zro2: gun7 }),
      run(3, 'unknown', { zro2: gun7 }),
      run(2, '2026-11-02T08:00:00Z', { al2o3: gun7 }),
      run(4, 'unknown', { zro2: gun7 }),
    ];
    expect(toolingHistories([batch])).toEqual([
      {
        ...{ material: 'zro2', source: 'gun-7', sensor: 'witness' },
        points: [1, 3, 4].map((number) => ({
          ...{ batchId: batch.id, runId: `run-${number}`, lot: batch.order.lot, run: number },
          ...{ startedAt: number === 1 ? '1969-07-20T20:17:00Z' : 'unknown', tooling: number },
          ...{ sigma: 0.002, carried: true },
        })),
      },
      expect.objectContaining({ material: 'zro2', source: 'gun-1' }),
    ]);
  });

  it('is of one chamber, whatever the case of its name and the blanks about it', () => {
    const named = (name: string) => ({ ...demo(), chamber: { ...demo().chamber, name } });
    expect(isSameChamber(named('Box coater B'), named(' box COATER b '))).toBe(true);
    expect(isSameChamber(named('Box coater B'), named('Box coater'))).toBe(false);
  });

  it('goes over several batches in the order in which the runs were started, each point with its lot; a run that stands twice counts once', () => {
    const lotOf = (lot: string, title: string, runs: [string, number][]): Batch => {
      const batch = demo();
      batch.order.lot = lot;
      batch.order.title = title;
      batch.runs = runs.map(([startedAt, after], place) => ({
        ...runWith([]),
        ...{ id: `run-${place + 1}`, number: place + 1, startedAt },
        corrections: [correction('zro2', after)],
      }));
      return { ...batch, id: title };
    };
    const first = lotOf('A-1', 'first', [
      ['2026-11-02T08:00:00Z', 1.01],
      ['2026-11-05T08:00:00Z', 1.03],
    ]);
    const second = lotOf('', 'second', [['2026-11-03T09:00:00+02:00', 1.02]]);
    const again = { ...first, id: 'first-2' };
    const [history] = toolingHistories([second, first, again]);
    expect(history!.points.map((point) => [pointName(point, true), point.batchId, point.tooling])).toEqual([
      ['lot A-1, run 1', 'first', 1.01],
      ['lot second, run 1', 'second', 1.02],
      ['lot A-1, run 2', 'first', 1.03],
    ]);
    expect(pointName({ ...history!.points[0]!, lot: 'Lot 7' }, true)).toBe('Lot 7, run 1');
    expect(pointName(history!.points[0]!, false)).toBe('run 1');
    expect(isSameChamber(first, second)).toBe(true);
    const renamed = { ...second, chamber: { ...second.chamber, name: 'another coater' } };
    expect(isSameChamber(first, renamed)).toBe(false);
  });
});
