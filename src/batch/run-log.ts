import type { Batch, RunRecord } from './document.ts';

/** Runs whose number, side, date, initials, note, spectra, places or trail hold every word; all where there is none. */
export function findRuns(runs: readonly RunRecord[], words: string): RunRecord[] {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  return runs.filter((run) => {
    const text = textOf(run).toLowerCase();
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

/** The run log as comma-separated text (RFC 4180), one line a run; the spectra's readings are in the JSON. */
export function runLogCsv({ order, runs }: Batch): string {
  const lines = runs.map((run) => [
    order.lot,
    String(run.number),
    run.side,
    run.startedAt,
    run.operator,
    run.note ?? '',
    run.spectra.map(spectrumText).join('; '),
    correctionTexts(run).join('; '),
    (run.trail ?? []).map(({ at, by, did }) => `${at} ${by}: ${did}`).join('; '),
  ]);
  return [HEADINGS, ...lines].map((cells) => `${cells.map(csvCell).join(',')}\r\n`).join('');
}

/** The run log with everything in it, spectra and their originals included. */
export function runLogJson({ id, order, runs }: Batch): string {
  return `${JSON.stringify({ batch: id, lot: order.lot, title: order.title, runs }, null, 2)}\n`;
}

function textOf(run: RunRecord): string {
  return [
    `run ${run.number}`,
    run.side,
    run.startedAt,
    run.operator,
    run.note ?? '',
    ...run.spectra.map(spectrumText),
    ...correctionTexts(run),
    ...(run.trail ?? []).map(({ by, did }) => `${by} ${did}`),
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

/**
 * A cell in quotes where it must be. A spreadsheet computes what begins with =, +, - or @; an apostrophe before it keeps
 * such a text a text (common practice, no source).
 */
function csvCell(text: string): string {
  const harmless = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
}
