import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { canonicalJson } from '../../src/base/canonical-json.ts';
import type { Batch, RunRecord } from '../../src/batch/document.ts';
import { fingerprintOf, shortFingerprint } from '../../src/batch/fingerprint.ts';
import { batchFrom } from '../../src/batch/read-batch.ts';
import { coatingOf } from '../../src/batch/run-planned.ts';
import { certificatePage, certificateTitle } from '../../src/inspect/certificate/certificate-html.ts';
import { judgeRun, verdictOf } from '../../src/inspect/judge-run.ts';
import { judgedRows } from '../../src/inspect/judged-rows.ts';
import { type FlatReading, measuredLot } from './measured-lot.ts';

const BOTH = (percent: number): FlatReading[] => [0, 25].map((incidenceDeg) => ({ percent, incidenceDeg }));
const CONFORMANCE = {
  ...{ pass: 'shown', fail: 'missed' },
  ...{ 'too-close': 'open', 'no-uncertainty': 'open', open: 'open' },
} as const;
const stated = { uncertaintyPercent: 0.02 };

function rowsOf(batch: Batch) {
  const run = batch.runs[0]!;
  return judgedRows(coatingOf(batch, run.side).requirements, run);
}

function pageOf(batch: Batch): string {
  const origin = { version: '1.2.3', fingerprint: fingerprintOf(batch) };
  return certificatePage({ batch, run: batch.runs[0]!, origin });
}

describe('conformance', () => {
  // The decision rule with a guard band of U = 2u (ISO 14253-1; JCGM 106:2012, 8.3.2): the limit is 0.4 %, U 0.04 %.
  it.each<[string, FlatReading[], Partial<RunRecord>, string]>([
    ['0.3 % at both angles', BOTH(0.3), stated, 'shown'],
    ['0.36 %, exactly U below the limit', BOTH(0.36), { uncertaintyPercent: 0.02 - 1e-12 }, 'shown'],
    ['0.37 %, within U below the limit', BOTH(0.37), stated, 'open'],
    ['0.43 %, within U above the limit', BOTH(0.43), stated, 'open'],
    ['0.5 %', BOTH(0.5), stated, 'missed'],
    ['0.3 % at one angle of two', BOTH(0.3).slice(0, 1), stated, 'open'],
    ['0.3 % without a stated uncertainty', BOTH(0.3), {}, 'open'],
    ['0.3 % with a stated uncertainty of 0', BOTH(0.3), { uncertaintyPercent: 0 }, 'open'],
    ['0.5 % without a stated uncertainty', BOTH(0.5), {}, 'missed'],
    ['nothing', [], stated, 'open'],
    ['one good and one bad place', [...BOTH(0.3), { percent: 0.5, incidenceDeg: 0 }], stated, 'missed'],
    ['one place too close', [...BOTH(0.3), { percent: 0.39, incidenceDeg: 0 }], stated, 'open'],
  ])('of %s is %s', (_, readings, more, conformance) => {
    const batch = measuredLot(readings, more);
    expect(CONFORMANCE[judgeRun(batch, batch.runs[0]!).kind]).toBe(conformance);
  });

  it('is not shown by an order without requirements', () => {
    expect(verdictOf([], 2).kind).toBe('open');
  });

  it('is judged for every angle and every place by itself', () => {
    const rows = rowsOf(measuredLot([...BOTH(0.3), { percent: 0.39, incidenceDeg: 0 }], stated));
    expect(rows.map(({ incidenceDeg, verdict }) => [incidenceDeg, verdict])).toEqual([
      [0, 'pass'],
      [0, 'too-close'],
      [25, 'pass'],
    ]);
    expect(rows[0]!.valuePercent).toBeCloseTo(0.3, 9);
    expect(rows[0]!.expandedUncertaintyPercent).toBeCloseTo(0.04, 12);
  });
});

describe('the page of a run', () => {
  const good = measuredLot(BOTH(0.3), {
    ...stated,
    actual: { lenses: 118 },
    note: 'crystal changed after layer 2',
  });
  good.shop = 'Kestrel Thin Films, Harrowby (invented)';
  good.runs[0]!.spectra[0]!.instrument = 'double-beam photometer 3, slit 2 nm (invented)';
  good.runs[0]!.spectra[0]!.piece = 'witness';
  good.runs[0]!.spectra[0]!.place = 'rack 2, middle';

  it('is called a certificate only where conformance is shown', () => {
    const titleOf = (batch: Batch) => certificateTitle({ batch, run: batch.runs[0]! });
    expect(titleOf(good)).toBe('Certificate of conformance');
    for (const batch of [measuredLot(BOTH(0.39), stated), measuredLot(BOTH(0.5), stated), measuredLot([])]) {
      expect(titleOf(batch)).toMatch(/^Inspection report/);
      const page = pageOf(batch);
      expect(page).toContain('This is no certificate of conformance.');
      expect(page).not.toContain('conforms as measured');
      expect(page).not.toMatch(/<td>pass<\/td>.*<td>pass<\/td>/s);
    }
  });

  it('counts the requirements that are missed, not those that are met', () => {
    const page = pageOf(measuredLot([...BOTH(0.5), { percent: 0.3, incidenceDeg: 0 }], stated));
    expect(page).toContain('2 requirements are missed as measured.');
  });

  it("draws the requirements' band with 8 % of air, as far as something was measured", () => {
    // 430 to 670 nm with 19.2 nm of air; the measurement goes from 400 to 700 nm, or ends earlier.
    const spans = (cut: (nm: number) => boolean) => {
      const batch = measuredLot(BOTH(0.3), stated);
      for (const spectrum of batch.runs[0]!.spectra) {
        spectrum.wavelengthNm = spectrum.wavelengthNm.filter(cut);
        spectrum.values = spectrum.wavelengthNm.map(() => 0.003);
      }
      const dots = /class="dots" d="M([\d.]+) [^"]*M([\d.]+) [^"]*?"/.exec(pageOf(batch))!;
      return dots.slice(1).map(Number);
    };
    // The frame lies between 13 and 180.5 mm.
    const at = (nm: number, from: number, to: number) => 13 + (167.5 * (nm - from)) / (to - from);
    const near = ([first, last]: number[], ...wanted: [number, number]) => {
      expect(first).toBeCloseTo(wanted[0], 1);
      expect(last).toBeCloseTo(wanted[1], 1);
    };
    near(
      spans(() => true),
      at(415, 410.8, 689.2),
      at(685, 410.8, 689.2),
    );
    near(
      spans((nm) => nm >= 440 && nm <= 675),
      at(440, 430, 675),
      at(675, 430, 675),
    );
  });

  it('says that too close to call is no pass', () => {
    const page = pageOf(measuredLot(BOTH(0.39), stated));
    expect(page).toContain('<b>too close to call</b>');
    expect(page).toContain('too close to call, which is no pass');
    expect(page).toContain('2 are too close to the limit to call');
  });

  it('carries shop, lot, glass, quantity, values, uncertainty, method, serial, version and both fingerprints', () => {
    const page = pageOf(good);
    const record = createHash('sha256').update(canonicalJson(good.runs[0]), 'utf8').digest('hex');
    for (const text of [
      'Kestrel Thin Films, Harrowby (invented)',
      'LW-2611-04',
      'Glass 517642',
      '<dd>118;',
      '0.300 %',
      '± 0.040 %',
      'double-beam photometer 3, slit 2 nm (invented)',
      'witness piece, not a lens, rack 2, middle',
      'reflectance at 25°',
      'Serial eyepiece-field-lens/run-7',
      'Coatwright 1.2.3',
      shortFingerprint(fingerprintOf(good)),
      shortFingerprint(record),
      "The customer's drawing and the standard in force for it come first",
      'Released by, date',
      'crystal changed after layer 2',
    ])
      expect(page.replaceAll('&#39;', "'")).toContain(text);
    expect(page.match(/class="dots"/g)).toHaveLength(2);
    expect(page.match(/class="limit"/g)).toHaveLength(1);
  });

  it('needs no other file, runs no script, and shows no figure that is none', () => {
    for (const batch of [good, measuredLot([]), measuredLot(BOTH(0.5))]) {
      expect(pageOf(batch)).not.toMatch(/<script|<link|src=|url\(/);
      expect(pageOf(batch)).not.toMatch(/NaN|Infinity|undefined|null/);
    }
  });

  it('never turns what somebody typed into markup', () => {
    const hostile = structuredClone(good);
    hostile.shop = '<script>alert(1)</script>';
    hostile.runs[0]!.spectra[0]!.instrument = '<img src=x onerror=alert(1)>';
    hostile.runs[0]!.operator = '</style><b>';
    expect(pageOf(hostile)).not.toMatch(/<script|<img|<\/style><b>/);
  });

  it("follows a document that is read back, and leaves the batch's fingerprint alone", () => {
    expect(batchFrom(JSON.parse(JSON.stringify(good)))).toEqual(good);
    expect(fingerprintOf(good)).toBe(fingerprintOf(measuredLot([])));
  });
});
