import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { appendEntry } from '../../src/batch/audit-trail.ts';
import type { MeasuredSpectrum, RunRecord } from '../../src/batch/document.ts';
import { readBatch } from '../../src/batch/read-batch.ts';
import { codeText } from '../../src/batch/record-code.ts';
import { findRuns, runLogCsv, runLogJson } from '../../src/inspect/run-log.ts';

const text = readFileSync(new URL('../../demo/eyepiece-field-lens.json', import.meta.url), 'utf8');

function logged() {
  const batch = readBatch(text);
  const entry = { at: '2026-11-25T10:00:00Z', by: 'MK', run: 1 };
  batch.trail = appendEntry(appendEntry([], { ...entry, did: 'crystal changed after layer 2' }), {
    ...entry,
    ...{ by: 'TB', run: 2 },
    did: 'power failed',
  });
  batch.runs.push(
    {
      id: 'run-1',
      number: 1,
      side: 'front',
      startedAt: '2026-11-25T08:00:00Z',
      operator: 'MK',
      note: '=1+1, "quoted"',
      planned: {
        ...{ fingerprint: '', layers: [], tooling: {}, lenses: 55 },
        ...{ pumpMin: 55, heatMin: 30, coatMin: 40, coolMin: 30, totalMin: 200 },
      },
      actual: { pumpMin: 61.5 },
      readings: [{ what: 'pressure before layer 1', value: '4e-4 Pa' }],
      spectra: [],
      corrections: [{ material: 'zro2', sensor: 'witness', before: 1, after: 0.98, sigma: 0.003 }],
    },
    {
      id: 'run-2',
      number: 2,
      side: 'back',
      startedAt: '2026-11-25T13:00:00Z',
      operator: 'TB',
      spectra: [],
    },
  );
  return readBatch(JSON.stringify(batch));
}

describe('the run log', () => {
  it('is searched by all words, whatever their case', () => {
    const batch = logged();
    const numbers = (words: string) => findRuns(batch, words).map(({ number }) => number);
    expect(numbers('')).toEqual([1, 2]);
    expect(numbers('mk CRYSTAL')).toEqual([1]);
    expect(numbers('4e-4 pa')).toEqual([1]);
    expect(numbers('power failed')).toEqual([2]);
    expect(numbers('run tb')).toEqual([2]);
    expect(numbers('mk back')).toEqual([]);
    expect(numbers('front')).toEqual([1]);
    expect(numbers('back')).toEqual([2]);
    expect(numbers(`${batch.id}/run-2`)).toEqual([2]);
    expect(numbers('another-batch/run-2')).toEqual([]);
    batch.runs[1]!.number = 47;
    expect(numbers('run 47')).toEqual([47]);
    batch.runs[1]!.number = 2;
    expect(numbers(codeText({ batchId: batch.id }))).toEqual([1, 2]);
    expect(numbers(codeText({ batchId: batch.id, runId: 'run-1' }))).toEqual([1]);
    expect(numbers(codeText({ batchId: 'another-batch', runId: 'run-1' }))).toEqual([]);
  });

  it.each([
    ['2026-11-25T13', 2],
    ['TB', 2],
    ['"quoted"', 1],
    ['before layer 1: 4e-4', 1],
    ['a.csv edge 8°', 1],
    ['zro2 0.003', 1],
    ['open', 1],
    ['no-uncertainty', 2],
    ['tb  power', 2],
  ])('finds a run by each thing that it holds: %s', (words, number) => {
    const batch = logged();
    const spectrum: MeasuredSpectrum = {
      ...{ id: 'a', name: 'a.csv', side: 'front', place: 'edge', quantity: 'R', incidenceDeg: 8 },
      ...{ wavelengthNm: [500], values: [0.01] },
    };
    const reflecting = { wavelengthNm: [420, 680], values: [0.001, 0.001] };
    batch.runs[0]!.spectra = [spectrum];
    batch.runs[1]!.side = 'front';
    batch.runs[1]!.spectra = [
      { ...spectrum, ...reflecting, name: 'b.csv', place: 'centre', incidenceDeg: 0 },
    ];
    expect(findRuns(batch, words).map((run) => run.number)).toEqual([number]);
  });

  it('goes out as CSV with quotes doubled and no cell that a spreadsheet computes', () => {
    const lines = runLogCsv(logged()).split('\r\n');
    expect(lines).toHaveLength(4);
    expect(lines[0]).toBe(
      'lot,run,side,started,operator,note,lenses planned,lenses actual,pump planned / min,pump actual / min,' +
        'heat planned / min,heat actual / min,coat planned / min,coat actual / min,cool planned / min,cool actual / min,' +
        'door to door planned / min,door to door actual / min,readings,spectra,verdict,verdict in words,corrections,trail',
    );
    expect(lines[1]).toBe(
      `LW-2611-04,1,front,2026-11-25T08:00:00Z,MK,"'=1+1, ""quoted""",55,,55,61.5,30,,40,,30,,200,,` +
        'pressure before layer 1: 4e-4 Pa,,open,nothing is measured yet,zro2 witness tooling 1 to 0.98 (sigma 0.003),' +
        '2026-11-25T10:00:00Z MK: crystal changed after layer 2',
    );
    expect(lines[2]).toBe(
      'LW-2611-04,2,back,2026-11-25T13:00:00Z,TB,,,,,,,,,,,,,,,,open,nothing is measured yet,,2026-11-25T10:00:00Z TB: power failed',
    );
  });

  it('parts what a run has several of by semicolons', () => {
    const batch = logged();
    const [run] = batch.runs as [RunRecord];
    run.readings!.push({ what: 'crystal', value: '62 %' });
    run.corrections!.push({ ...run.corrections![0]!, source: 'gun-2', noted: true });
    batch.trail = appendEntry(batch.trail!, { at: '2026-11-25T11:00:00Z', by: 'MK', run: 1, did: 'done' });
    const bare = {
      side: 'front',
      quantity: 'R',
      incidenceDeg: 0,
      wavelengthNm: [500, 510],
      values: [0, 0],
    } as const;
    run.spectra = [
      { ...bare, id: 'a', name: 'a.csv', wavelengthNm: [500, 510], values: [0, 0] },
      { ...bare, id: 'b', name: 'b.csv', wavelengthNm: [500, 510], values: [0, 0], reading: {} },
    ];
    const csv = runLogCsv(batch);
    for (const cell of [
      ',pressure before layer 1: 4e-4 Pa; crystal: 62 %,',
      ',"a.csv (R at 0°, 2 readings); b.csv (R at 0°, 2 readings)",',
      ',"zro2 witness tooling 1 to 0.98 (sigma 0.003); zro2 from gun-2 witness tooling 1 to 0.98 (sigma 0.003), noted only",',
      '2026-11-25T10:00:00Z MK: crystal changed after layer 2; 2026-11-25T11:00:00Z MK: done',
    ])
      expect(csv).toContain(cell);
  });

  it('names what was done to the readings of a spectrum', () => {
    const batch = logged();
    batch.runs[0]!.spectra = [
      {
        ...{ id: 'a', name: 'a.csv', side: 'front', place: 'edge', quantity: 'R', incidenceDeg: 8 },
        ...{ wavelengthNm: [500], values: [0.01] },
        reading: { smoothPoints: 7, bareBackRemoved: true, baseline: { referencePercent: 98 } },
      },
    ];
    expect(runLogCsv(batch)).toContain(
      'a.csv (R at 8°, edge, 1 readings, put on a baseline, bare back taken off, smoothed over 7 points)',
    );
  });

  it('goes out as JSON with everything in it', () => {
    const batch = logged();
    const { id, order, runs, trail } = batch;
    expect(JSON.parse(runLogJson(batch))).toEqual({
      batch: id,
      lot: order.lot,
      title: order.title,
      runs,
      trail,
    });
    expect(runLogJson(batch)).toMatch(/^{\n {2}"batch".*}\n$/s);
    delete batch.trail;
    expect(JSON.parse(runLogJson(batch))).toMatchObject({ trail: [] });
    expect(findRuns(batch, 'power')).toEqual([]);
  });
});
