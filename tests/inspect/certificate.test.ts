import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { canonicalJson } from '../../src/base/canonical-json.ts';
import type { Batch, RunRecord } from '../../src/batch/document.ts';
import { fingerprintOf, shortFingerprint } from '../../src/batch/fingerprint.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { batchFrom } from '../../src/batch/read-batch.ts';
import { coatingOf, plannedRun } from '../../src/batch/run-planned.ts';
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

  /** Cells of a table of the page, and what stands beside each term of its list, without markup. */
  const plain = (html: string) =>
    html
      .replaceAll('<br>', ' ')
      .replaceAll(/<[^>]+>/g, '')
      .replaceAll('&#39;', "'");
  const rowsUnder = (page: string, label: string) => {
    const table = page.split(`aria-label="${label}"`)[1]!.split('</table>')[0]!;
    return table
      .split('<tr>')
      .slice(2)
      .map((row) =>
        row
          .split(/<td[^>]*>/)
          .slice(1)
          .map(plain),
      );
  };
  const said = (page: string, term: string) => {
    const found = page.split(`<dt>${term}</dt><dd>`)[1];
    return found === undefined ? undefined : plain(found.split('</dd>')[0]!);
  };
  const REQUIREMENTS = 'Requirements and what was measured';
  const METHOD = 'How it was measured';
  const at = (angle: number) => `R mean ≤ 0.4 %, 430–670 nm, ${angle}°`;
  /** The lot with other requirements for its front. */
  const requiring = (batch: Batch, change: object): Batch => {
    const [first] = batch.surfaces.front.requirements;
    batch.surfaces.front.requirements = [{ ...first!, ...change }];
    return batch;
  };

  it.each<[string, Batch, string, string]>([
    [
      'all is met',
      measuredLot(BOTH(0.3), stated),
      'Certificate of conformance',
      'The coating of run 7 conforms as measured: every requirement listed is met by more than the expanded uncertainty of its measurement.',
    ],
    [
      'one is missed',
      measuredLot([{ percent: 0.5, incidenceDeg: 0 }], stated),
      'Inspection report: requirements missed',
      'This is no certificate of conformance. 1 requirement is missed as measured.',
    ],
    [
      'nothing was measured',
      measuredLot([]),
      'Inspection report: conformance not shown',
      'This is no certificate of conformance. Conformance is neither shown nor refuted: of 2 lines below, 2 are not measured.',
    ],
    [
      'one is too close and one not measured',
      measuredLot([{ percent: 0.39, incidenceDeg: 0 }], stated),
      'Inspection report: conformance not shown',
      'This is no certificate of conformance. Conformance is neither shown nor refuted: of 2 lines below, 1 is too close to the limit to call and 1 is not measured.',
    ],
    [
      'no uncertainty is stated',
      measuredLot(BOTH(0.3)),
      'Inspection report: conformance not shown',
      'This is no certificate of conformance. Conformance is neither shown nor refuted: of 2 lines below, 2 are within the limit as read, without a stated uncertainty.',
    ],
    [
      'the only one was not measured',
      requiring(measuredLot([]), { incidenceDeg: [0] }),
      'Inspection report: conformance not shown',
      'This is no certificate of conformance. Conformance is neither shown nor refuted: of 1 line below, 1 is not measured.',
    ],
  ])('says in its title and in a sentence what it is where %s', (_, batch, title, statement) => {
    const page = pageOf(batch);
    expect(plain(page.split('<p class="statement">')[1]!.split('</p>')[0]!)).toBe(statement);
    expect(page).toContain(`<h1>${title}</h1>`);
    expect(page).toContain(`<title>${title} · Lot LW-2611-04</title>`.replace('Lot ', 'lot '));
  });

  it('says so where the order lists no requirement, and then has no table of them', () => {
    const batch = measuredLot(BOTH(0.3), stated);
    batch.surfaces.front.requirements = [];
    const page = pageOf(batch);
    expect(page).toContain('nor refuted: the order lists no requirement for this side.');
    expect(page).not.toContain(`aria-label="${REQUIREMENTS}"`);
    expect(page).toContain('class="dots"');
  });

  it('lists what was measured for each requirement, with limit, value, uncertainty and verdict', () => {
    const measured = [
      { percent: 0.3, incidenceDeg: 0 },
      { percent: 0.5, incidenceDeg: 0 },
    ];
    expect(rowsUnder(pageOf(measuredLot(measured, stated)), REQUIREMENTS)).toEqual([
      [at(0), 'witness at 0 degrees', '≤ 0.4 %', '0.300 %', '± 0.040 %', 'pass'],
      [at(0), 'witness at 0 degrees', '≤ 0.4 %', '0.500 %', '± 0.040 %', 'FAIL'],
      [at(25), 'no spectrum of the run covers it', '≤ 0.4 %', '–', '–', 'not measured'],
    ]);
    const unstated = rowsUnder(pageOf(measuredLot(measured.slice(0, 1))), REQUIREMENTS);
    expect(unstated.map((row) => row.slice(3))).toEqual([
      ['0.300 %', '–', 'no pass: uncertainty not stated'],
      ['–', '–', 'not measured'],
    ]);
    expect(unstated[1]![1]).toBe('the requirement is at 25°, measured was 0°');
    expect(rowsUnder(pageOf(measuredLot([])), REQUIREMENTS)[0]![1]).toBe('nothing was measured');
    const highest = { statistic: 'min', sense: 'above', limit: 0.39, bandNm: [500, 600], incidenceDeg: [0] };
    const [row] = rowsUnder(pageOf(requiring(measuredLot(BOTH(0.4), stated), highest)), REQUIREMENTS);
    expect(row).toEqual([
      ...['R min ≥ 0.39 %, 500–600 nm, 0°', 'witness at 0 degrees', '≥ 0.39 %'],
      ...['0.400 % at 500 nm', '± 0.040 %', 'too close to call'],
    ]);
    expect(pageOf(measuredLot(BOTH(0.3), stated))).toContain('<td>pass</td>');
    expect(pageOf(measuredLot(BOTH(0.5), stated))).toContain('<td><b>FAIL</b></td>');
  });

  it('says how each spectrum was measured, and what was not stated', () => {
    const batch = measuredLot([...BOTH(0.3), { percent: 0.3, incidenceDeg: 8 }], stated);
    const [first, second, third] = batch.runs[0]!.spectra;
    Object.assign(first!, { piece: 'witness', place: 'rack 2', instrument: 'photometer 3 (invented)' });
    Object.assign(second!, {
      piece: 'lens',
      quantity: 'T',
      reading: { smoothPoints: 7, bareBackRemoved: true },
    });
    Object.assign(third!, { quantity: 'A', place: 'edge', reading: { bareBackRemoved: false } });
    const page = pageOf(batch);
    expect(rowsUnder(page, METHOD)).toEqual([
      [
        ...['1: witness at 0 degrees', 'reflectance at 0°, taken as unpolarized'],
        ...['witness piece, not a lens, rack 2', 'photometer 3 (invented)', '61 from 400 to 700 nm'],
      ],
      [
        ...['2: witness at 25 degrees', 'transmittance at 25°, taken as unpolarized', 'lens', 'not stated'],
        '61 from 400 to 700 nm; smoothed over 7 points; the bare back was taken off by calculation',
      ],
      [
        ...['3: witness at 8 degrees', 'absorptance at 8°, taken as unpolarized'],
        ...['piece not stated, edge', 'not stated', '61 from 400 to 700 nm'],
      ],
    ]);
    const ofReading = '<p>Uncertainty of a reading, one standard deviation of full scale:';
    expect(page).toContain(`${ofReading} 0.020 %.</p>`);
    expect(pageOf(measuredLot(BOTH(0.3)))).toContain(`${ofReading} not stated.</p>`);
    const none = pageOf(measuredLot([]));
    expect(none).toContain('<p>No spectrum is logged for this run.</p>');
    expect(none).not.toContain(ofReading);
    expect(none).not.toContain('<figure');
  });

  it('says what was coated, when, by whom and where', () => {
    const page = pageOf(good);
    expect(said(page, 'Lens')).toMatch(/^Glass 517642.*; diameter 32 mm, clear aperture 30 mm$/);
    expect(said(page, 'Side and coating')).toMatch(/^front; 3 layers of [^,]+, [^,]+ and [^,]+$/);
    expect(said(page, 'Lenses of this run')).toBe('118; the lot has 360 good lenses ordered');
    expect(said(page, 'Coated')).toBe(
      '2026-11-20 07:30 (as logged), operator MK, in Box coater B (invented)',
    );
    expect(said(page, 'Remarks of the log')).toBe('crystal changed after layer 2');
    expect(said(page, 'Design')).toMatch(/^The plan was not kept when run 7 was logged/);
    expect(page).toContain('<p>Eyepiece field lens, for Brannock Survey Instruments (invented)</p>');
    expect(page).toContain('<p class="drawing">Drawing: AR both sides, R avg &lt;= 0.4 %');
    expect(page).toContain('<p><b>Kestrel Thin Films, Harrowby (invented)</b></p>');
    expect(plain(page.split('<div class="lot">')[1]!.split('</div>')[0]!)).toBe(
      'LotLW-2611-04Run 7 Serial eyepiece-field-lens/run-7',
    );
    expect(plain(page)).toContain('Invented for demonstration: the shop, the people');
    expect(page.replaceAll('&#39;', "'")).toContain("Code that leads to this run's record");
  });

  it('leaves out what the record does not hold, or says that it was not stated', () => {
    const batch = measuredLot([], { operator: ' ' });
    delete batch.order.customer;
    delete batch.order.drawing;
    delete batch.invented;
    batch.order.quantity = 1;
    batch.runs[0]!.planned = plannedRun(batch, computePlan(batch), 'front')!;
    const page = pageOf(batch);
    expect(said(page, 'Lenses of this run')).toBe('number not stated; the lot has 1 good lens ordered');
    expect(said(page, 'Coated')).toContain('(as logged), operator not stated, in Box coater B');
    expect(said(page, 'Design')).toBeUndefined();
    expect(said(page, 'Remarks of the log')).toBeUndefined();
    expect(page).toContain('<p>Eyepiece field lens</p>');
    expect(page).toContain('<footer>Printed by Coatwright 1.2.3. Batch eyepiece-field-lens, fingerprint ');
    for (const absent of ['Drawing:', '<p><b>']) expect(page).not.toContain(absent);
  });

  it('says beneath its plot what is drawn, and what was aimed at', () => {
    const batch = measuredLot(BOTH(0.3), stated);
    batch.process.aimPercent = 2;
    expect(pageOf(batch)).toContain('Dashed: aimed at (2 % more film than the stack) at the same angles.');
    delete batch.process.aimPercent;
    expect(pageOf(batch)).toContain('Dashed: planned at the same angles.');
    expect(pageOf(batch)).toContain('role="group" aria-label="Measured and planned"');
    expect(pageOf(batch).match(/<svg class="plot"/g)).toHaveLength(1);
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
