import { html, nothing, type TemplateResult } from 'lit';
import { fixed, significant } from '../../../base/format.ts';
import { type FilmProperties, HAZARD_CAUTION } from '../../../materials/film-properties.ts';
import { materialCurves } from '../../../materials/material-curves.ts';
import { headlineIndex } from '../../../materials/material-list.ts';
import type { MaterialRecord } from '../../../materials/record.ts';
import { temperatureNote } from '../../../materials/temperature-note.ts';
import { variantWords } from '../../../materials/variant.ts';
import { formulaText } from '../../stations/material-words.ts';
import type { Stretch } from './material-chart-data.ts';

/**
 * All that is known of a material besides its curves: what was measured, where it comes from, how it is deposited, hazards.
 * @param usedAtC temperature in °C at which the batch lays films down, for a word where the data are of another one.
 */
export function materialFacts(record: MaterialRecord, usedAtC: number): TemplateResult {
  const { film, source, bulk } = record;
  const { wavelengthNm, n, k } = headlineIndex(record);
  const warmth = temperatureNote(record, usedAtC);
  const changes = record.variant === undefined ? [] : variantWords(record.variant);
  return html`<div class="group">
    <h3>${record.name}</h3>
    ${record.caution === undefined ? nothing : html`<p class="caution"><b>Mind:</b> ${sentence(record.caution)}</p>`}
    <dl class="record">
      ${fact('Id', record.id)}
      ${record.formula === undefined ? nothing : fact('Formula', formulaText(record.formula))}
      ${fact(`At ${significant(wavelengthNm, 4)} nm`, `n ${fixed(n, 4)}${k > 0 ? `, k ${significant(k, 3)}` : ''}`)}
      ${fact('Valid from', `${significant(record.rangeNm[0], 4)} to ${significant(record.rangeNm[1], 5)} nm`, "outside, the nearer end's value is held and flagged")}
      ${fact('Measured on', record.description ?? KINDS[record.kind])}
      ${changes.length === 0 ? nothing : fact('Changed by the shop', changes.join(', '))}
      ${record.temperatureC === undefined ? nothing : fact('Measured at', `${record.temperatureC} °C`, 'the index is not corrected to other temperatures')}
      ${record.relativeTo === undefined ? nothing : fact('Relative to', record.relativeTo)}
      ${fact('Form', FORMS[record.dispersion.form])}
    </dl>
    ${record.role === 'substrate' || warmth === undefined ? nothing : html`<p class="small">Used in this batch at ${usedAtC} °C. ${warmth}</p>`}
    ${film === undefined ? nothing : filmFacts(film)}
    ${bulk === undefined ? nothing : bulkFacts(bulk)}
    ${hazardFacts(record)}
    <h4>Source of the index</h4>
    <dl class="record">
      ${fact('Cited as', source.cites)}
      ${source.doi === undefined ? nothing : fact('DOI', source.doi.join(', '))}
      ${source.dataset === undefined ? nothing : fact('Data set', source.dataset, [source.file, source.commit === undefined ? undefined : `state ${source.commit.slice(0, 10)}`].filter(Boolean).join(', '))}
      ${source.note === undefined ? nothing : fact('Changed on the way', source.note)}
      ${fact('How it came here', source.provenance)}
    </dl>
  </div>`;
}

/** n and k of one or two materials at the lines that people know, within a stretch of wavelengths. */
export function indexTable(records: readonly MaterialRecord[], [from, to]: Stretch): TemplateResult {
  const lines = LINES_NM.filter((nm) => nm >= from && nm <= to);
  if (lines.length === 0) return html``;
  const curves = records.map((record) => ({ record, ...materialCurves(record) }));
  return html`<div class="scroll" tabindex="0" role="group" aria-label="Index at known lines"><table>
    <caption>At lines of lamps and lasers; k by its N = n − ik.</caption>
    <thead>
      <tr><th class="figure">nm</th>${records.map(({ name }) => html`<th class="figure">n, ${name}</th><th class="figure">k</th>`)}</tr>
    </thead>
    <tbody>
      ${lines.map((nm) => html`<tr><th scope="row" class="figure">${nm}</th>${curves.map(({ record, n, k }) => (nm < record.rangeNm[0] || nm > record.rangeNm[1] ? html`<td class="figure soft" colspan="2">outside its data</td>` : html`<td class="figure">${fixed(n(nm), 4)}</td><td class="figure">${significant(k(nm), 2)}</td>`))}</tr>`)}
    </tbody>
  </table></div>`;
}

/** Lines of lamps and lasers, nm in air or vacuum to the figure shown. */
const LINES_NM = [248, 365, 405, 435.8, 486.1, 532, 587.6, 632.8, 656.3, 850, 1064, 1550, 3390, 10600];

const KINDS = { film: 'a film', crystal: 'a crystal', glass: 'a glass', semiconductor: 'a semiconductor' };

const FORMS: Readonly<Record<MaterialRecord['dispersion']['form'], string>> = {
  sellmeier: 'Sellmeier formula',
  'general-sellmeier': 'general Sellmeier formula',
  cauchy: 'Cauchy series',
  polynomial: 'power series of n²',
  gas: 'formula for gases',
  herzberger: 'Herzberger formula',
  refractivity: 'refractivity formula',
  'damped-resonance': 'damped resonance',
  'tauc-lorentz': 'Tauc–Lorentz model',
  expression: 'expression in the wavelength',
  table: 'table, interpolated',
};

function filmFacts(film: FilmProperties): TemplateResult {
  const sourced = (
    name: string,
    given: { value: number; range?: readonly number[]; note?: string; provenance: string } | undefined,
    unit: string,
  ) =>
    given === undefined
      ? nothing
      : fact(
          name,
          `${plain(given.value)} ${unit}${given.range === undefined || given.range[0] === given.range[1] ? '' : ` (usual ${given.range.map(plain).join(' to ')})`}`,
          [given.note, given.provenance].filter(Boolean).join('; '),
        );
  const word = (
    name: string,
    { value, note, provenance }: { value: string; note?: string; provenance: string },
  ) => fact(name, note === undefined ? value : `${value}; ${note}`, provenance);
  return html`<h4>As a film</h4>
    <p class="small soft">Starting values; every chamber calibrates its own.</p>
    <dl class="record">
      ${sourced('Density of the film', film.densityGPerCm3, 'g/cm³')}
      ${sourced('Density in bulk', film.densityBulkGPerCm3, 'g/cm³')}
      ${fact('Z-ratio', `${plain(film.zRatio.value)}${film.zRatio.known ? '' : ' (not known, assumed)'}`, film.zRatio.provenance)}
      ${word('Usual source', film.vapourSource)}
      ${sourced('Rate', film.rateNmPerS, 'nm/s')}
      ${sourced('Substrate temperature', film.substrateTemperatureC, '°C')}
      ${sourced('Oxygen', film.oxygenPa, 'Pa')}
      ${word('Stress', film.stress)}
      ${word('Water uptake', film.waterUptake)}
      ${sourced('Melts at', film.meltingPointC, '°C')}
      ${sourced('Vapour of 0.0133 Pa at', film.vapourTemperatureC, '°C')}
      ${film.evaporation === undefined ? nothing : fact('Evaporates', film.evaporation.note, film.evaporation.provenance)}
      ${film.cas === undefined ? nothing : fact('CAS number', film.cas)}
    </dl>`;
}

function bulkFacts(bulk: NonNullable<MaterialRecord['bulk']>): TemplateResult {
  const { thermalExpansion = [], greatestTemperatureC: hottest } = bulk;
  return html`<h4>In bulk</h4>
    <dl class="record">
      ${bulk.glassCode === undefined ? nothing : fact('Glass code', bulk.glassCode)}
      ${bulk.nd === undefined ? nothing : fact('nd', String(bulk.nd))}
      ${bulk.abbeNumber === undefined ? nothing : fact('Abbe number', fixed(bulk.abbeNumber, 2))}
      ${bulk.densityGPerCm3 === undefined ? nothing : fact('Density', `${plain(bulk.densityGPerCm3)} g/cm³`)}
      ${thermalExpansion.map(({ fromC, toC, perK }) => fact('Expansion', `${plain(perK * 1e6)} × 10⁻⁶ per K`, `${plain(fromC)} to ${plain(toC)} °C`))}
      ${hottest === undefined ? nothing : fact('In vacuum up to', `${hottest.value} °C`, hottest.provenance)}
      ${fact('Where from', bulk.provenance)}
    </dl>`;
}

function hazardFacts({ hazards = [] }: MaterialRecord): TemplateResult {
  return html`<h4>Hazards</h4>
    ${
      hazards.length === 0
        ? html`<p class="small">None are recorded, which does not mean that there are none.</p>`
        : html`<ul class="hazards">${hazards.map(({ fact: text, provenance }) => html`<li>${text} <span class="small soft">(${provenance})</span></li>`)}</ul>`
    }
    <p class="small caution">${HAZARD_CAUTION}</p>`;
}

function fact(name: string, value: unknown, provenance = ''): TemplateResult {
  return html`<dt>${name}</dt><dd>${value}${provenance === '' ? nothing : html`<span class="whence">${provenance}</span>`}</dd>`;
}

function sentence(text: string): string {
  const start = `${text[0]?.toUpperCase() ?? ''}${text.slice(1)}`;
  return start.endsWith('.') ? start : `${start}.`;
}

/** A figure as it was given, with a true minus sign. */
function plain(value: number): string {
  return String(Number(value.toPrecision(6))).replace('-', '−');
}
