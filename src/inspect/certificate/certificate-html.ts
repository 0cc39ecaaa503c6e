import { counted, fixed, listed, significant } from '../../base/format.ts';
import { type Markup, markup } from '../../base/markup.ts';
import { designNote } from '../../batch/design-changes.ts';
import type { Batch, MeasuredSpectrum, RunRecord } from '../../batch/document.ts';
import { hashOf, shortFingerprint } from '../../batch/fingerprint.ts';
import { aimInWords } from '../../batch/plan/aim.ts';
import { labelOf } from '../../batch/plan/film-facts.ts';
import { codeText, serialOf } from '../../batch/record-code.ts';
import { batchAsRun, coatingOf } from '../../batch/run-planned.ts';
import { type PageOrigin, printedPage } from '../../batch/traveller/printed-page.ts';
import { qrSvg } from '../../batch/traveller/qr-svg.ts';
import { findMaterial } from '../../materials/library.ts';
import { judgeRun, type RunVerdict, verdictOf } from '../judge-run.ts';
import { type JudgedRow, judgedRows } from '../judged-rows.ts';
import { asPlanned, predictCoating, reachOf } from '../predict-coating.ts';
import { measuredPlot } from './measured-plot.ts';

/** What a certificate is made from. */
export interface CertificateFacts {
  readonly batch: Batch;
  readonly run: RunRecord;
  readonly origin: PageOrigin;
}

/** What the page of a run is called: a certificate only where conformance is shown. */
export function certificateTitle({ batch, run }: Pick<CertificateFacts, 'batch' | 'run'>): string {
  return TITLES[judgeRun(batch, run).kind];
}

const NOT_SHOWN = 'Inspection report: conformance not shown';
const TITLES: Readonly<Record<RunVerdict['kind'], string>> = {
  pass: 'Certificate of conformance',
  fail: 'Inspection report: requirements missed',
  'too-close': NOT_SHOWN,
  'no-uncertainty': NOT_SHOWN,
  open: NOT_SHOWN,
};

/** The certificate, or the report where there is nothing to certify, as one self-contained page. */
export function certificatePage(facts: CertificateFacts): string {
  return printedPage(facts.batch, certificateTitle(facts), certificateBody(facts));
}

/** The certificate's content as it stands inside a page that already has the style. */
export function certificateBody(facts: CertificateFacts): Markup {
  const { batch, run, origin } = facts;
  const rows = judgedRows(coatingOf(batch, run.side).requirements, run);
  return markup`<article class="traveller certificate">
${head(facts, certificateTitle(facts))}
${what(batch, run)}
<p class="statement">${statement(rows, run)}</p>
<h2>Requirements and what was measured</h2>
${verdictTable(rows)}
${plots(batch, run)}
<h2>How it was measured</h2>
${method(run)}
<p class="small">A requirement is passed where the value keeps clear of its limit by the whole expanded uncertainty (coverage factor k = 2, about 95 %), and failed where it lies beyond the limit by as much; in between it is too close to call, which is no pass (decision rule with a guard band, ISO 14253-1 and JCGM 106:2012). Only what is listed above was measured; adhesion, hardness, durability and cosmetic quality are not part of this page.</p>
<p class="small">The customer's drawing and the standard in force for it come first; where this page differs from them, they hold. The page says what the record holds; whoever signs it answers for it.</p>
<div class="sign"><div>Measured by, date</div><div>Checked by, date</div><div>Released by, date</div></div>
<footer>${batch.invented === undefined ? '' : `${batch.invented} `}Printed by Coatwright ${origin.version}. Batch ${batch.id}, fingerprint ${shortFingerprint(origin.fingerprint)}; record of the run, fingerprint ${shortFingerprint(hashOf(run))}.</footer>
</article>`;
}

function head({ batch: { id, order, shop }, run, origin }: CertificateFacts, title: string): Markup {
  const code = codeText({ batchId: id, runId: run.id, sheet: shortFingerprint(origin.fingerprint) });
  return markup`<header>
<div><h1>${title}</h1>
${shop === undefined ? undefined : markup`<p><b>${shop}</b></p>`}
<p>${order.title}${order.customer === undefined ? '' : `, for ${order.customer}`}</p>
${order.drawing === undefined ? undefined : markup`<p class="drawing">Drawing: ${order.drawing}</p>`}</div>
<div class="lot">Lot<b>${order.lot}</b>Run ${run.number}<br><span class="small">Serial ${serialOf({ batchId: id, runId: run.id })}</span></div>
${qrSvg(code, 27, "Code that leads to this run's record")}
</header>`;
}

function what(batch: Batch, run: RunRecord) {
  const asRun = batchAsRun(batch, run);
  const { lens, quantity } = asRun.order;
  const label = (id: string) => labelOf(findMaterial(id, batch.materials), id);
  const { layers } = coatingOf(asRun, run.side);
  const note = designNote(batch, run);
  const materials = [...new Set(layers.map(({ material }) => label(material)))];
  return markup`<h2>What was coated</h2>
<dl>
<dt>Lens</dt><dd>${label(lens.substrate)}; diameter ${lens.diameterMm} mm, clear aperture ${lens.clearApertureMm} mm</dd>
<dt>Side and coating</dt><dd>${run.side}; ${counted(layers.length, 'layer')} of ${listed(materials)}</dd>
${note.kind === 'same' ? undefined : markup`<dt>Design</dt><dd>${note.sentence}</dd>`}
<dt>Lenses of this run</dt><dd>${run.actual?.lenses ?? 'number not stated'}; the lot has ${counted(quantity, 'good lens', 'good lenses')} ordered</dd>
<dt>Coated</dt><dd>${run.startedAt.replace('T', ' ').slice(0, 16)} (as logged), ${run.operator.trim() === '' ? 'operator not stated' : `operator ${run.operator}`}, in ${batch.chamber.name}</dd>
${run.note === undefined ? undefined : markup`<dt>Remarks of the log</dt><dd>${run.note}</dd>`}
</dl>`;
}

/** The result in a sentence or two; never more than the rows say. */
function statement(rows: readonly JudgedRow[], run: RunRecord): Markup {
  const { kind } = verdictOf(rows, run.spectra.length);
  switch (kind) {
    case 'pass':
      return markup`<b>The coating of run ${run.number} conforms as measured:</b> every requirement listed is met by more than the expanded uncertainty of its measurement.`;
    case 'fail':
      return markup`<b>This is no certificate of conformance.</b> ${counted(rows.filter(({ verdict }) => verdict === 'fail').length, 'requirement is', 'requirements are')} missed as measured.`;
    default:
      return markup`<b>This is no certificate of conformance.</b> Conformance is neither shown nor refuted: ${whyOpen(rows)}.`;
  }
}

function whyOpen(rows: readonly JudgedRow[]): string {
  if (rows.length === 0) return 'the order lists no requirement for this side';
  const count = (wanted: JudgedRow['verdict']) => rows.filter(({ verdict }) => verdict === wanted).length;
  const parts = [
    [count('too-close'), 'too close to the limit to call'],
    [count('no-uncertainty'), 'within the limit as read, without a stated uncertainty'],
    [count('not-measured'), 'not measured'],
  ] as const;
  return `of ${counted(rows.length, 'line')} below, ${listed(parts.filter(([n]) => n > 0).map(([n, words]) => `${n} ${n === 1 ? 'is' : 'are'} ${words}`))}`;
}

const VERDICTS: Readonly<Record<JudgedRow['verdict'], string>> = {
  pass: 'pass',
  fail: 'FAIL',
  'too-close': 'too close to call',
  'no-uncertainty': 'no pass: uncertainty not stated',
  'not-measured': 'not measured',
};

function verdictTable(rows: readonly JudgedRow[]): Markup | undefined {
  if (rows.length === 0) return undefined;
  return markup`<div class="scroll" tabindex="0" role="group" aria-label="Requirements and what was measured"><table><thead><tr><th>Requirement</th><th>Measured on</th><th class="n">Limit</th><th class="n">Measured</th><th class="n">U (k = 2)</th><th>Verdict</th></tr></thead>
<tbody>${rows.map(
    (row) =>
      markup`<tr><td>${row.requirement}</td><td>${row.spectrum ?? row.reason}</td><td class="n">${row.sense === 'below' ? '≤' : '≥'} ${row.limitPercent} %</td><td class="n">${row.valuePercent === undefined ? '–' : `${significant(row.valuePercent, 3)} %`}${row.worstWavelengthNm === undefined ? '' : markup`<br><span class="small">at ${fixed(row.worstWavelengthNm, 0)} nm</span>`}</td><td class="n">${row.expandedUncertaintyPercent === undefined ? '–' : `± ${significant(row.expandedUncertaintyPercent, 2)} %`}</td><td>${row.verdict === 'pass' ? VERDICTS.pass : markup`<b>${VERDICTS[row.verdict]}</b>`}</td></tr>`,
  )}</tbody></table></div>`;
}

function plots(batch: Batch, run: RunRecord): Markup | undefined {
  const asRun = batchAsRun(batch, run);
  const surface = coatingOf(asRun, run.side);
  const planned = predictCoating(asRun, surface, asPlanned(surface), reachOf(run.spectra));
  const drawn = (['R', 'T', 'A'] as const).flatMap(
    (quantity) => measuredPlot(quantity, run.spectra, surface.requirements, planned) ?? [],
  );
  if (drawn.length === 0) return undefined;
  const aim = aimInWords(asRun);
  const dashed = aim === undefined ? 'planned' : `aimed at (${aim})`;
  return markup`<figure class="chart"><div class="scroll" tabindex="0" role="group" aria-label="Measured and planned">${drawn}</div><figcaption class="small">Dots: measured; beside them the number of the spectrum and its angle. Dashed: ${dashed} at the same angles. Thick line: limit; the hatched side is the wrong one.</figcaption></figure>`;
}

const QUANTITIES = { R: 'reflectance', T: 'transmittance', A: 'absorptance' } as const;

function method({ spectra, uncertaintyPercent = 0 }: RunRecord): Markup {
  if (spectra.length === 0) return markup`<p>No spectrum is logged for this run.</p>`;
  return markup`<div class="scroll" tabindex="0" role="group" aria-label="How it was measured"><table><thead><tr><th>Spectrum</th><th>Quantity and angle</th><th>Piece</th><th>Instrument</th><th>Readings</th></tr></thead>
<tbody>${spectra.map(
    (spectrum, place) =>
      markup`<tr><td>${place + 1}: ${spectrum.name}</td><td>${QUANTITIES[spectrum.quantity]} at ${spectrum.incidenceDeg}°, taken as unpolarized</td><td>${pieceText(spectrum)}</td><td>${spectrum.instrument ?? 'not stated'}</td><td>${readingText(spectrum)}</td></tr>`,
  )}</tbody></table></div>
<p>Uncertainty of a reading, one standard deviation of full scale: ${uncertaintyPercent === 0 ? 'not stated' : `${significant(uncertaintyPercent, 2)} %`}.</p>`;
}

function pieceText({ piece, place }: MeasuredSpectrum): string {
  const kind =
    piece === undefined ? 'piece not stated' : piece === 'lens' ? 'lens' : 'witness piece, not a lens';
  return place === undefined ? kind : `${kind}, ${place}`;
}

function readingText({ wavelengthNm, reading }: MeasuredSpectrum): string {
  return [
    `${wavelengthNm.length} from ${fixed(wavelengthNm[0]!, 0)} to ${fixed(wavelengthNm.at(-1)!, 0)} nm`,
    ...(reading?.smoothPoints === undefined ? [] : [`smoothed over ${reading.smoothPoints} points`]),
    ...(reading?.bareBackRemoved === true ? ['the bare back was taken off by calculation'] : []),
  ].join('; ');
}
