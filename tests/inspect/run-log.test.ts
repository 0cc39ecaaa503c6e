import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { appendEntry } from '../../src/batch/audit-trail.ts';
import { readBatch } from '../../src/batch/read-batch.ts';
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
    expect(numbers(`${batch.id}/run-2`)).toEqual([2]);
    expect(numbers('another-batch/run-2')).toEqual([]);
  });

  it('goes out as CSV with quotes doubled and no cell that a spreadsheet computes', () => {
    const lines = runLogCsv(logged()).split('\r\n');
    expect(lines).toHaveLength(4);
    expect(lines[0]).toMatch(/^lot,run,side,started,operator,note,lenses planned,lenses actual,pump planned/);
    expect(lines[0]).toMatch(/,readings,spectra,verdict,verdict in words,corrections,trail$/);
    expect(lines[1]).toContain(`,MK,"'=1+1, ""quoted""",`);
    expect(lines[1]).toContain(',55,61.5,');
    expect(lines[1]).toContain('pressure before layer 1: 4e-4 Pa');
    expect(lines[1]).toContain(',open,nothing is measured yet,');
    expect(lines[1]).toContain('zro2 witness tooling 1 to 0.98 (sigma 0.003)');
    expect(lines[1]).toContain('MK: crystal changed after layer 2');
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
    expect(JSON.parse(runLogJson(batch))).toMatchObject({ runs: batch.runs, trail: batch.trail });
  });
});
