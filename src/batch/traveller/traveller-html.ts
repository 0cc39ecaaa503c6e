import { counted, duration, fixed } from '../../base/format.ts';
import { type Markup, markup } from '../../base/markup.ts';
import type { Batch } from '../document.ts';
import { shortFingerprint } from '../fingerprint.ts';
import { doneWords, lotNamed } from '../lot-done-words.ts';
import { lotWords } from '../lot-words.ts';
import { motionText } from '../motion-words.ts';
import { patternWords } from '../pattern-words.ts';
import { rowWords } from '../plan/load-rows.ts';
import type { LotDone, Plan } from '../plan/plan-types.ts';
import { codeText } from '../record-code.ts';
import { rackSvg } from './load-svg.ts';
import { lotSection } from './lot-section.ts';
import { type PageOrigin, printedPage } from './printed-page.ts';
import { qrSvg } from './qr-svg.ts';
import { cutSection, sideSection } from './side-section.ts';

/** The traveller as one self-contained page, ready to print on A4 or Letter: no script, no outside file. */
export function travellerPage(batch: Batch, plan: Plan, origin: PageOrigin): string {
  return printedPage(batch, 'Traveller', travellerBody(batch, plan, origin));
}

/** The traveller's content as it stands inside a page that already has the style. */
export function travellerBody(batch: Batch, plan: Plan, origin: PageOrigin): Markup {
  return markup`<article class="traveller">
${head(batch, plan, origin)}
${warnings(plan)}
${loadSection(batch, plan)}
${lotSection(batch, plan)}
${cautions(plan)}
${sides(batch, plan, sideSection)}
${signatures()}
${origins(batch, origin)}
</article>`;
}

/** The cut tables of the traveller alone, with its head: what the technician holds at the monitor. */
export function cutTableBody(batch: Batch, plan: Plan, origin: PageOrigin): Markup {
  return markup`<article class="traveller cuts">
${head(batch, plan, origin)}
${warnings(plan)}
<p class="small">Cut table alone; load, charge, steps and cautions stand on the traveller.</p>
${sides(batch, plan, cutSection)}
${signatures()}
${origins(batch, origin)}
</article>`;
}

function sides(batch: Batch, { surfaces, runs }: Plan, section: typeof sideSection): (Markup | undefined)[] {
  return surfaces.map((surface, index) => {
    const run = runs[index];
    return run === undefined ? undefined : section(batch, surface, run);
  });
}

function origins({ id, invented }: Batch, { version, fingerprint }: PageOrigin): Markup {
  return markup`<footer>${invented === undefined ? '' : `${invented} `}Computed by Coatwright ${version} from batch ${id}, fingerprint ${shortFingerprint(fingerprint)}.</footer>`;
}

function head({ id, order }: Batch, { lot }: Plan, { fingerprint }: PageOrigin): Markup {
  const code = codeText({ batchId: id, sheet: shortFingerprint(fingerprint) });
  return markup`<header>
<div><h1>${order.title}</h1>
${order.customer === undefined ? undefined : markup`<p>for ${order.customer}</p>`}
${order.drawing === undefined ? undefined : markup`<p class="drawing">Drawing: ${order.drawing}</p>`}
${order.note === undefined ? undefined : markup`<p>${order.note}</p>`}</div>
<div class="lot">Lot<b>${order.lot}</b>${counted(order.quantity, 'good lens', 'good lenses')} ordered<br>${lot.lensesToStart} to start</div>
${qrSvg(code, 27, 'Code that leads to the record of this batch')}
</header>`;
}

function warnings(plan: Plan): Markup | undefined {
  if (plan.warnings.length === 0) return undefined;
  return markup`<div class="warnings"><b>To be cleared before the run</b><ul>${plan.warnings.map((line) => markup`<li>${line}</li>`)}</ul></div>`;
}

function loadSection({ order: { lens }, fixture, chamber }: Batch, { load, lot, surfaces }: Plan): Markup {
  return markup`<h2>Lens and load</h2>
<div class="pair"><dl>
<dt>Glass</dt><dd>${surfaces[0]?.substrateLabel ?? lens.substrate}</dd>
<dt>Diameter, clear aperture</dt><dd>${lens.diameterMm} mm, ${lens.clearApertureMm} mm</dd>
<dt>Centre thickness</dt><dd>${lens.centreThicknessMm} mm</dd>
<dt>Front radius</dt><dd>${radius(lens.frontRadiusMm)}</dd>
<dt>Back radius</dt><dd>${radius(lens.backRadiusMm)}</dd>
${lens.maximumTemperatureC === undefined ? undefined : markup`<dt>Not above</dt><dd>${lens.maximumTemperatureC} °C</dd>`}
<dt>Chamber</dt><dd>${chamber.name}</dd>
<dt>Motion</dt><dd>${motionText(fixture)}</dd>
<dt>${load.motion.kind === 'dome' ? 'Dome' : 'Racks'}</dt><dd>${load.racks} of ${load.rackDiameterMm} mm, rim ${fixture.rimMm} mm, holders ${load.holderDiameterMm} mm, web ${fixture.webMm} mm</dd>
<dt>Holder ring</dt><dd>outside ${fixed(load.holder.outerMm, 2)} mm, seat ${fixed(load.holder.seatMm, 2)} mm, opening ${fixed(load.holder.openingMm, 2)} mm${load.holder.lipMm === 0 ? '' : `, lip ${load.holder.lipMm} mm`}</dd>
${(chamber.shields ?? []).map((shield) => markup`<dt>Shield ${shield.id}</dt><dd>at ${shield.heightMm} mm, ${fixed(shield.azimuthDeg, 0)}°, ${shield.source === undefined ? 'stands still' : `swings in with ${shield.source}`}</dd>`)}
<dt>Places on a rack</dt><dd>${load.places.length} (${patternWords(fixture.pattern, load.pattern)}): ${load.lensesPerRack} lenses, ${load.places.length - load.lensesPerRack} witness (W)</dd>
<dt>A load</dt><dd>${load.lensesPerLoad} lenses</dd>
<dt>Loads and runs</dt><dd>${counted(lot.loads, 'load')}, ${counted(lot.runs, 'run')}; the last load holds ${lot.lensesInLastLoad}</dd>
<dt>Whole lot</dt><dd>${duration(lot.totalS)}</dd>
</dl>${rackSvg(load, 66)}</div>
${load.otherLots.map((other) => markup`<h3>Also on the carrier: ${lotWords(other.lot)}</h3><div class="pair"><dl><dt>Lenses to start</dt><dd>${other.quantity}, diameter ${other.diameterMm} mm</dd><dt>Holders</dt><dd>${other.holderDiameterMm} mm</dd><dt>Places on a rack</dt><dd>${other.places.length}: ${other.lensesPerRack} lenses, ${other.places.length - other.lensesPerRack} witness (W)</dd>${goesIn(lotNamed(lot, other.lot))}</dl>${rackSvg({ ...load, ...other }, 50)}</div>`)}
<h3>What stands in every load</h3>
<div class="scroll" tabindex="0" role="group" aria-label="What stands in every load"><table><thead><tr><td></td><th>Load</th><th>Racks</th></tr></thead>
<tbody>${lot.rows.map((row) => markup`<tr><td class="tick"></td><td>${row.from === row.to ? row.from : `${row.from}–${row.to}`}</td><td>${rowWords(row)}</td></tr>`)}</tbody></table></div>`;
}

function goesIn(done: LotDone | undefined): Markup | undefined {
  return done === undefined ? undefined : markup`<dt>Goes in with</dt><dd>${doneWords(done)}</dd>`;
}

function radius(value: number | undefined): string {
  if (value === undefined) return 'plane';
  return `${fixed(value, Number.isInteger(value) ? 0 : 2)} mm`;
}

function cautions({ cautions: lines }: Plan): Markup {
  return markup`<h2>Cautions</h2><ol class="cautions">${lines.map((line) => markup`<li>${line}</li>`)}</ol>`;
}

function signatures(): Markup {
  return markup`<div class="sign"><div>Operator, date</div><div>Technician, date</div><div>Released by, date</div></div>`;
}
