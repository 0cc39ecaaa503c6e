import { clock, counted, duration, fixed, percent, significant } from '../../base/format.ts';
import { escapeMarkup, type Markup, markup } from '../../base/markup.ts';
import { RULE_WORDS } from '../../monitor/rule-words.ts';
import type { Batch } from '../document.ts';
import { gradingWords } from '../grading-words.ts';
import { patternWords } from '../pattern-words.ts';
import { rowWords } from '../plan/load-rows.ts';
import type { Plan, RunPlan, SurfacePlan } from '../plan/plan-types.ts';
import { rackSvg } from './load-svg.ts';
import { lotSection } from './lot-section.ts';
import { TRAVELLER_CSS } from './traveller-css.ts';

/** What a printed page says of where it came from. */
export interface TravellerOrigin {
  readonly version: string;
  readonly fingerprint: string;
}

/** The traveller as one self-contained page, ready to print on A4 or Letter: no script, no outside file. */
export function travellerPage(batch: Batch, plan: Plan, origin: TravellerOrigin): string {
  const lot = escapeMarkup(cssText(`${batch.order.title} · lot ${batch.order.lot}`));
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeMarkup(`Traveller · lot ${batch.order.lot}`)}</title>
<style>${TRAVELLER_CSS}
@page { @bottom-left { content: "${lot}"; font: 8pt sans-serif; } @bottom-right { content: "page " counter(page) " of " counter(pages); font: 8pt sans-serif; } }
</style>
</head>
<body>${travellerBody(batch, plan, origin)}</body>
</html>
`;
}

/** A text made safe within a CSS string in double quotes. */
function cssText(text: string): string {
  return text.replace(/["\\<>\p{Cc}]/gu, ' ');
}

/** The traveller's content as it stands inside a page that already has the style. */
export function travellerBody(batch: Batch, plan: Plan, origin: TravellerOrigin): Markup {
  return markup`<article class="traveller">
${head(batch, plan)}
${warnings(plan)}
${loadSection(batch, plan)}
${lotSection(batch, plan)}
${cautions(plan)}
${plan.surfaces.map((surface, index) => sideSection(batch, surface, plan.runs[index]))}
${signatures()}
<footer>${batch.invented === undefined ? '' : `${batch.invented} `}Computed by Coatwright ${origin.version} from batch ${batch.id}, fingerprint ${origin.fingerprint}.</footer>
</article>`;
}

function head({ order }: Batch, { lot }: Plan): Markup {
  return markup`<header>
<div><h1>${order.title}</h1>
${order.customer === undefined ? undefined : markup`<p>for ${order.customer}</p>`}
${order.drawing === undefined ? undefined : markup`<p class="drawing">Drawing: ${order.drawing}</p>`}
${order.note === undefined ? undefined : markup`<p>${order.note}</p>`}</div>
<div class="lot">Lot<b>${order.lot}</b>${counted(order.quantity, 'good lens', 'good lenses')} ordered<br>${lot.lensesToStart} to start</div>
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
<dt>Racks</dt><dd>${load.racks} of ${load.rackDiameterMm} mm, rim ${fixture.rimMm} mm, holders ${load.holderDiameterMm} mm, web ${fixture.webMm} mm</dd>
<dt>Holder ring</dt><dd>outside ${fixed(load.holder.outerMm, 2)} mm, seat ${fixed(load.holder.seatMm, 2)} mm, opening ${fixed(load.holder.openingMm, 2)} mm${load.holder.lipMm === 0 ? '' : `, lip ${load.holder.lipMm} mm`}</dd>
${(chamber.shields ?? []).map((shield) => markup`<dt>Shield ${shield.id}</dt><dd>at ${shield.heightMm} mm, ${fixed(shield.azimuthDeg, 0)}°, ${shield.source === undefined ? 'stands still' : `swings in with ${shield.source}`}</dd>`)}
<dt>Places on a rack</dt><dd>${load.places.length} (${patternWords(fixture.pattern, load.pattern)}): ${load.lensesPerRack} lenses, ${load.places.length - load.lensesPerRack} witness (W)</dd>
<dt>A load</dt><dd>${load.lensesPerLoad} lenses</dd>
<dt>Loads and runs</dt><dd>${counted(lot.loads, 'load')}, ${counted(lot.runs, 'run')}; the last load holds ${lot.lensesInLastLoad}</dd>
<dt>Whole lot</dt><dd>${duration(lot.totalS)}</dd>
</dl>${rackSvg(load, 74)}</div>
${load.otherLots.map((other) => markup`<h3>Also on the carrier: lot ${other.lot}</h3><div class="pair"><dl><dt>Lenses to start</dt><dd>${other.quantity}, diameter ${other.diameterMm} mm</dd><dt>Holders</dt><dd>${other.holderDiameterMm} mm</dd><dt>Places on a rack</dt><dd>${other.places.length}: ${other.lensesPerRack} lenses, ${other.places.length - other.lensesPerRack} witness (W)</dd></dl>${rackSvg({ ...load, ...other }, 50)}</div>`)}
<h3>What stands in every load</h3>
<div class="scroll"><table><thead><tr><th></th><th>Load</th><th>Racks</th></tr></thead>
<tbody>${lot.rows.map((row) => markup`<tr><td class="tick"></td><td>${row.from === row.to ? row.from : `${row.from}–${row.to}`}</td><td>${rowWords(row)}</td></tr>`)}</tbody></table></div>`;
}

function radius(value: number | undefined): string {
  if (value === undefined) return 'plane';
  return `${fixed(value, Number.isInteger(value) ? 0 : 2)} mm`;
}

function sideSection(batch: Batch, surface: SurfacePlan, run: RunPlan | undefined): Markup | undefined {
  if (run === undefined) return undefined;
  const name = surface.side === 'front' ? 'Front side' : 'Back side';
  return markup`<section class="side">
<h2>${name}: coating${surface.own ? '' : ' as the front'}</h2>
<div class="scroll"><table><thead><tr><th></th><th class="n">Layer</th><th>Material</th><th class="n">Thickness</th><th class="n">Quarter waves at ${fixed(surface.referenceWavelengthNm, 0)} nm</th><th class="n">Index</th><th class="n">Rate</th></tr></thead>
<tbody>${surface.layers.map(
    (layer, index) =>
      markup`<tr><td class="tick"></td><td class="n">${index + 1}</td><td>${layer.label}</td><td class="n">${fixed(layer.thicknessNm, 1)} nm</td><td class="n">${fixed(layer.quarterWaves, 3)}</td><td class="n">${fixed(layer.referenceIndex, 4)}${layer.grading === undefined ? '' : `, ${gradingWords(layer.grading)}`}</td><td class="n">${rateOf(batch, layer.material)}</td></tr>`,
  )}</tbody></table></div>
<p>In the order of deposition; layer 1 lies on the glass. Total ${fixed(surface.totalThicknessNm, 1)} nm.${aimWords(batch)}</p>
${surface.requirements.map(
  (verdict) =>
    markup`<p class="${verdict.met ? 'met' : 'missed'}">${verdict.text}: planned ${significant(verdict.valuePercent, 3)} %</p>`,
)}
<h3>Charge</h3>
<div class="scroll"><table><thead><tr><th></th><th>Material</th><th>Source</th><th class="n">Pockets</th><th class="n">Used by the run</th><th class="n">Charge with reserve</th><th>Weighed in</th><th>Weighed out</th></tr></thead>
<tbody>${run.charge.map(
    (item) =>
      markup`<tr><td class="tick"></td><td>${item.label}</td><td>${item.source}</td><td class="n">${item.pockets}</td><td class="n">${significant(item.netMassG)} g</td><td class="n">${significant(item.massG)} g</td><td class="blank"></td><td class="blank"></td></tr>`,
  )}</tbody></table></div>
<h3>Steps: ${duration(run.totalS)} door to door</h3>
<p>Bold steps set the length of the run.</p>
<div class="scroll"><table><thead><tr><th></th><th>Step</th><th class="n">Starts</th><th class="n">Takes</th><th>Set by</th><th>Done at</th></tr></thead>
<tbody>${run.steps.map(
    (step) =>
      markup`<tr><td class="tick"></td><td>${step.critical ? markup`<b>${step.label}</b>` : step.label}</td><td class="n">${clock(step.startS)}</td><td class="n">${duration(step.durationS)}</td><td>${step.limitedBy}</td><td class="blank"></td></tr>`,
  )}</tbody></table></div>
${cutTable(run)}
${readings(run)}
</section>`;
}

/** What the run makes of the thicknesses above; '' where it aims at just these. */
function aimWords({ process }: Batch): string {
  const percentOver = process.aimPercent ?? 0;
  if (percentOver === 0) return '';
  return ` The run aims at ${fixed(Math.abs(percentOver), 1)} % ${percentOver > 0 ? 'more' : 'less'} than this on the mean lens place; steps, charge and cut table have that in them.`;
}

function rateOf({ process }: Batch, material: string): string | undefined {
  const rate = process.materials[material]?.rateNmPerS;
  return rate === undefined ? undefined : `${significant(rate, 2)} nm/s`;
}

function cutTable(run: RunPlan): Markup {
  return markup`<h3>Monitor: where to cut</h3>
<div class="scroll"><table><thead><tr><th class="n">Layer</th><th>Material</th><th>Signal</th><th class="n">Starts at</th><th>Turning points</th><th class="n">Cut at</th><th class="n">Crystal</th><th class="n">Frequency drop</th><th>Read at the cut</th></tr></thead>
<tbody>${run.cuts.map(
    (cut, index) =>
      markup`<tr><td class="n">${index + 1}</td><td>${cut.label}${cut.newWitness ? ' (new witness)' : ''}</td><td>${cut.signal} at ${fixed(cut.wavelengthNm, 0)} nm, by ${RULE_WORDS[cut.rule]}</td><td class="n">${percent(cut.startLevel)}</td><td>${cut.turningPoints.length === 0 ? 'none' : cut.turningPoints.map(({ level }) => percent(level)).join(', ')}</td><td class="n">${percent(cut.endLevel)}</td><td class="n">${fixed(cut.crystalThicknessNm, 1)} nm</td><td class="n">${fixed(cut.crystalDropHz, 0)} Hz, ${fixed(cut.crystalLeftHz / 1000, 1)} kHz left</td><td class="blank"></td></tr>
${cut.note === '' ? undefined : markup`<tr><td></td><td colspan="8">${cut.note}</td></tr>`}`,
  )}</tbody></table></div>`;
}

function readings(run: RunPlan): Markup {
  return markup`<h3>Readings</h3>
<div class="scroll"><table class="readings"><thead><tr><th>Layer</th><th>Pressure at start</th><th>Oxygen</th><th>Temperature</th><th>Rate, mean</th><th>Beam current</th><th>Remark</th></tr></thead>
<tbody>${run.cuts.map((cut, index) => markup`<tr><td>${index + 1} ${cut.label}</td>${Array.from({ length: 6 }, () => markup`<td></td>`)}</tr>`)}</tbody></table></div>`;
}

function cautions({ cautions: lines }: Plan): Markup {
  return markup`<h2>Cautions</h2><ol class="cautions">${lines.map((line) => markup`<li>${line}</li>`)}</ol>`;
}

function signatures(): Markup {
  return markup`<div class="sign"><div>Operator, date</div><div>Technician, date</div><div>Released by, date</div></div>`;
}
