import { csvText } from '../base/csv.ts';
import type { AuditEntry } from './audit-trail.ts';
import type { Batch, RunRecord } from './document.ts';

/** Entries of the batch's trail about one run. */
export function trailOf({ trail = [] }: Batch, { number }: RunRecord): AuditEntry[] {
  return trail.filter(({ run }) => run === number);
}

/** Runs whose number, side, date, initials, note, spectra, places or trail hold every word; all where there is none. */
export function findRuns(batch: Batch, words: string): RunRecord[] {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  return batch.runs.filter((run) => {
    const text = textOf(batch, run).toLowerCase();
    return wanted.every((word) => text.includes(word));
  });
}

const HEADINGS = [
  'lot',
  'run',
  'side',
  'started',
  'operator',
  'note',
  'spectra',
  'corrections',
  'trail',
] as const;

/** The run log as comma-separated text, one line a run; the spectra's readings are in the JSON. */
export function runLogCsv(batch: Batch): string {
  const lines = batch.runs.map((run) => [
    batch.order.lot,
    run.number,
    run.side,
    run.startedAt,
    run.operator,
    run.note ?? '',
    run.spectra.map(spectrumText).join('; '),
    correctionTexts(run).join('; '),
    trailOf(batch, run)
      .map(({ at, by, did }) => `${at} ${by}: ${did}`)
      .join('; '),
  ]);
  return csvText(HEADINGS, lines);
}

/** The run log with everything in it, spectra, their originals and the whole trail included. */
export function runLogJson({ id, order, runs, trail = [] }: Batch): string {
  return `${JSON.stringify({ batch: id, lot: order.lot, title: order.title, runs, trail }, null, 2)}\n`;
}

function textOf(batch: Batch, run: RunRecord): string {
  return [
    `run ${run.number}`,
    run.side,
    run.startedAt,
    run.operator,
    run.note ?? '',
    ...run.spectra.map(spectrumText),
    ...correctionTexts(run),
    ...trailOf(batch, run).map(({ by, did }) => `${by} ${did}`),
  ].join(' ');
}

function spectrumText({ name, quantity, incidenceDeg, place, wavelengthNm }: RunRecord['spectra'][number]) {
  return `${name} (${quantity} at ${incidenceDeg}°${place === undefined ? '' : `, ${place}`}, ${wavelengthNm.length} readings)`;
}

function correctionTexts({ corrections = [] }: RunRecord): string[] {
  return corrections.map(
    ({ material, sensor, before, after, sigma }) =>
      `${material} ${sensor} tooling ${before} to ${after} (sigma ${sigma})`,
  );
}
