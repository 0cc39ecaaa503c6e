import { csvText } from '../base/csv.ts';
import type { AuditEntry } from '../batch/audit-trail.ts';
import type { Batch, MeasuredSpectrum, RunRecord } from '../batch/document.ts';
import { readCode } from '../batch/record-code.ts';
import { judgeRun } from './judge-run.ts';
import { STAGES } from './run-times.ts';

/** Entries of the batch's trail about one run. */
export function trailOf({ trail = [] }: Batch, { number }: RunRecord): AuditEntry[] {
  return trail.filter(({ run }) => run === number);
}

/** Runs whose number, side, date, initials, note, readings, spectra, verdict, corrections or trail hold every word; all where there is none. */
export function findRuns(batch: Batch, words: string): RunRecord[] {
  const code = readCode(words); // a serial number or a printed page's code finds its run
  if (code?.batchId === batch.id)
    return batch.runs.filter(({ id }) => code.runId === undefined || id === code.runId);
  const wanted = words.toLowerCase().split(/\s+/);
  return batch.runs.filter((run) => {
    const text = textOf(batch, run).toLowerCase();
    return wanted.every((word) => text.includes(word));
  });
}

const HEADINGS = [
  ...['lot', 'run', 'side', 'started', 'operator', 'note'],
  ...['lenses planned', 'lenses actual'],
  ...STAGES.flatMap(({ name }) => [`${name} planned / min`, `${name} actual / min`]),
  ...['readings', 'spectra', 'verdict', 'verdict in words', 'corrections', 'trail'],
];

/** The run log as comma-separated text, one line a run; the spectra's readings are in the JSON. */
export function runLogCsv(batch: Batch): string {
  const lines = batch.runs.map((run) => {
    const { planned, actual } = run;
    const { kind, sentence } = judgeRun(batch, run);
    return [
      ...[batch.order.lot, run.number, run.side, run.startedAt, run.operator, run.note ?? ''],
      ...[planned?.lenses ?? '', actual?.lenses ?? ''],
      ...STAGES.flatMap(({ field }) => [planned?.[field] ?? '', actual?.[field] ?? '']),
      readingTexts(run).join('; '),
      run.spectra.map(spectrumText).join('; '),
      ...[kind, sentence],
      correctionTexts(run).join('; '),
      trailOf(batch, run)
        .map(({ at, by, did }) => `${at} ${by}: ${did}`)
        .join('; '),
    ];
  });
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
    ...readingTexts(run),
    ...run.spectra.map(spectrumText),
    ...correctionTexts(run),
    judgeRun(batch, run).kind,
    ...trailOf(batch, run).map(({ by, did }) => `${by} ${did}`),
  ].join(' ');
}

function spectrumText({ name, quantity, incidenceDeg, place, wavelengthNm, reading }: MeasuredSpectrum) {
  const parts = [
    `${quantity} at ${incidenceDeg}°`,
    ...(place === undefined ? [] : [place]),
    `${wavelengthNm.length} readings`,
    ...(reading?.baseline === undefined ? [] : ['put on a baseline']),
    ...(reading?.bareBackRemoved ? ['bare back taken off'] : []),
    ...(reading?.smoothPoints === undefined ? [] : [`smoothed over ${reading.smoothPoints} points`]),
  ];
  return `${name} (${parts.join(', ')})`;
}

function readingTexts({ readings = [] }: RunRecord): string[] {
  return readings.map(({ what, value }) => `${what}: ${value}`);
}

function correctionTexts({ corrections = [] }: RunRecord): string[] {
  return corrections.map(
    ({ material, source, sensor, before, after, sigma, noted }) =>
      `${material}${source === undefined ? '' : ` from ${source}`} ${sensor} tooling ${before} to ${after} (sigma ${sigma})${noted ? ', noted only' : ''}`,
  );
}
