import { readFileSync } from 'node:fs';
import type { Batch, RunRecord } from '../../src/batch/document.ts';
import { readBatch } from '../../src/batch/read-batch.ts';

const demo = readBatch(readFileSync(new URL('../../demo/eyepiece-field-lens.json', import.meta.url), 'utf8'));

/** A flat reflectance in percent over the demo's band at an angle; invented. */
export interface FlatReading {
  readonly percent: number;
  readonly incidenceDeg: number;
}

/**
 * The demo's lot with one run of the front, measured flat at the given values. The demo asks for a mean reflectance of at
 * most 0.4 % from 430 to 670 nm at 0° and 25°.
 */
export function measuredLot(readings: readonly FlatReading[], more: Partial<RunRecord> = {}): Batch {
  const wavelengthNm = Array.from({ length: 61 }, (_, place) => 400 + 5 * place);
  const spectra = readings.map(({ percent, incidenceDeg }, place) => ({
    id: `spectrum-${place + 1}`,
    name: `witness at ${incidenceDeg} degrees`,
    side: 'front' as const,
    quantity: 'R' as const,
    incidenceDeg,
    wavelengthNm,
    values: wavelengthNm.map(() => percent / 100),
  }));
  const run: RunRecord = {
    id: 'run-7',
    number: 7,
    side: 'front',
    startedAt: '2026-11-20T07:30:00.000Z',
    operator: 'MK',
    spectra,
    ...more,
  };
  return { ...structuredClone(demo), runs: [run] };
}
