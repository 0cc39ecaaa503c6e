import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  carryInto,
  correctionsFor,
  isTelling,
  nextRunFactors,
} from '../../../src/app/stations/inspect/carry-corrections.ts';
import { fitRequest } from '../../../src/app/stations/inspect/fit-request.ts';
import { localMoment, momentOf } from '../../../src/app/stations/inspect/moment.ts';
import type { Batch, RunRecord } from '../../../src/batch/document.ts';
import { computePlan } from '../../../src/batch/plan/plan.ts';
import { readBatch } from '../../../src/batch/read-batch.ts';
import { plannedRun } from '../../../src/batch/run-planned.ts';

const demo = () =>
  readBatch(readFileSync(new URL('../../../demo/eyepiece-field-lens.json', import.meta.url), 'utf8'));
/** Of Al2O3 (witness), ZrO2 (witness) and MgF2 (crystal), as the demo has them. */
const FACTORS = [1, 1.02, 0.98].map((thicknessFactor) => ({ thicknessFactor, sigma: 0.002 }));

/** The demo with one run logged; `isKept`: with the plan of that moment. */
function withRun(isKept: boolean): { batch: Batch; run: RunRecord } {
  const batch = demo();
  const planned = isKept ? plannedRun(batch, computePlan(batch), 'front') : undefined;
  const run: RunRecord = {
    ...{ id: 'run-1', number: 1, side: 'front', startedAt: '', operator: '', spectra: [] },
    ...(planned === undefined ? {} : { planned }),
  };
  batch.runs.push(run);
  return { batch, run };
}

describe('corrections of the tooling', () => {
  it('go to the sensor that ended the layers, divide its tooling by the thickness factor, and name the source', () => {
    const { batch, run } = withRun(false);
    const all = correctionsFor(batch, run, FACTORS);
    expect(all.map(({ material, sensor, source }) => [material, sensor, source])).toEqual([
      ['al2o3', 'witness', 'gun-1'],
      ['zro2', 'witness', 'gun-1'],
      ['mgf2', 'crystal', 'boat-1'],
    ]);
    expect(all[2]).toMatchObject({ before: 1.1 });
    expect(all[2]!.after).toBeCloseTo(1.1 / 0.98, 12);
  });

  it('are put into the process and kept with their run; what is only noted is in no process', () => {
    const { batch, run } = withRun(true);
    const [first, second, third] = correctionsFor(batch, run, FACTORS);
    const draft = structuredClone(batch);
    carryInto(draft, batch, 'run-1', [second!], [first!, third!]);
    expect(draft.process.materials.zro2!.witnessTooling).toBeCloseTo(1 / 1.02, 12);
    expect(draft.process.materials.zro2!.crystalTooling).toBe(batch.process.materials.zro2!.crystalTooling);
    expect(draft.process.materials.mgf2).toEqual(batch.process.materials.mgf2);
    expect(readBatch(JSON.stringify(draft)).runs[0]!.corrections).toEqual([
      second,
      { ...first, noted: true },
      { ...third, noted: true },
    ]);
  });

  it('start from the tooling that the run was made by, whatever the batch holds since', () => {
    const { batch, run } = withRun(true);
    const later = structuredClone(batch);
    later.process.materials.mgf2!.crystalTooling = 1.3;
    later.monitor.layers.f3!.rule = 'level';
    const [, , mgf2] = correctionsFor(later, run, FACTORS);
    expect(mgf2).toMatchObject({ sensor: 'crystal', before: 1.1 });
    const [, , unkept] = correctionsFor(later, withRun(false).run, FACTORS);
    expect(unkept).toMatchObject({ sensor: 'witness', before: 1 });
  });

  it('are worth while beyond twice the doubt of the factor', () => {
    expect(FACTORS.map(isTelling)).toEqual([false, true, true]);
  });
});

describe('the next run', () => {
  it('repeats the factors of this one as long as nothing is corrected', () => {
    const { batch, run } = withRun(true);
    expect(nextRunFactors(batch, run, FACTORS, []).map((one) => one.thicknessFactor)).toEqual([
      1, 1.02, 0.98,
    ]);
  });

  it('comes out as planned with the corrections, before and after they are carried', () => {
    const { batch, run } = withRun(true);
    const all = correctionsFor(batch, run, FACTORS);
    const draft = structuredClone(batch);
    carryInto(draft, batch, 'run-1', all);
    for (const factors of [
      nextRunFactors(batch, run, FACTORS, all),
      nextRunFactors(draft, draft.runs[0]!, FACTORS, []),
    ])
      for (const { thicknessFactor } of factors) expect(thicknessFactor).toBeCloseTo(1, 12);
  });

  it('knows nothing of a material that this run did not contain, and keeps index factors', () => {
    const { batch, run } = withRun(true);
    batch.surfaces.front.layers[0]!.material = 'sio2';
    const factors = FACTORS.map((factor) => ({ ...factor, indexFactor: 0.99 }));
    expect(nextRunFactors(batch, run, factors, [])).toEqual([
      { thicknessFactor: 1 },
      { thicknessFactor: 1.02, indexFactor: 0.99 },
      { thicknessFactor: 0.98, indexFactor: 0.99 },
    ]);
  });
});

describe('the request of a fit', () => {
  it('refuses an absorptance with a sentence', () => {
    const batch = demo();
    const spectrum = {
      id: 'a',
      name: 'a',
      side: 'front' as const,
      quantity: 'A' as const,
      incidenceDeg: 0,
      wavelengthNm: [500],
      values: [0],
    };
    expect(() =>
      fitRequest(batch, batch.surfaces.front, spectrum, { free: 'materials', indexScale: false }),
    ).toThrow('an absorptance cannot be fitted');
  });
});

describe('a moment of the log', () => {
  it('is shown by the clock on the wall and kept as it was', () => {
    const iso = '2026-03-29T08:05:00.000Z';
    expect(momentOf(localMoment(iso))).toBe(iso);
    expect(localMoment('some day')).toBe('');
    expect(momentOf('')).toBeUndefined();
    expect(momentOf('2026-13-40T99:00')).toBeUndefined();
  });
});
