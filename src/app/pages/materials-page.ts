import { css, html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import { fixed, significant } from '../../base/format.ts';
import '../../elements/line-chart/cw-line-chart.ts';
import type { ChartMarker, LineSeries } from '../../elements/line-chart/line-chart-data.ts';
import { resolveIndex } from '../../materials/index-spec.ts';
import { findMaterial } from '../../materials/library.ts';
import type { MaterialRecord } from '../../materials/record.ts';
import { routeHref } from '../routes.ts';
import { StationElement } from '../station-element.ts';
import { stationStyles } from '../station-styles.ts';
import { formulaText, indexWords, materialsOf } from '../stations/material-words.ts';

const POINTS = 400;
/** What is charted first where the data reach that far. */
const USUAL_NM: readonly [number, number] = [380, 1100];

/** The library of materials: index and extinction over the wavelength, range, source, hazards, two side by side. */
@customElement('app-materials-page')
export class MaterialsPage extends StationElement {
  static override styles = [
    stationStyles,
    css`
      :host {
        --sheet-share: 0.55fr;
        --picture-share: 1.45fr;
      }
      .list {
        max-height: 70vh;
        overflow: auto;
      }
      .list li {
        border-bottom: var(--cw-hairline) solid var(--cw-rule);
      }
      .list a {
        display: block;
        padding: var(--cw-space-1) var(--cw-space-2);
        text-decoration: none;
      }
      .list a:hover {
        text-decoration: underline;
      }
      .list a[aria-current] {
        background: var(--cw-sheet);
        box-shadow: inset 3px 0 0 var(--cw-ink);
        font-weight: 600;
      }
      dl.record {
        display: grid;
        grid-template-columns: max-content minmax(0, 1fr);
        gap: var(--cw-space-1) var(--cw-space-4);
        margin: 0;
      }
      dl.record dt {
        color: var(--cw-ink-soft);
      }
      dl.record dd {
        margin: 0;
        overflow-wrap: anywhere;
      }
      .columns {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(20rem, 100%), 1fr));
        gap: var(--cw-space-5);
      }
      @media (max-width: 62rem) {
        .list {
          max-height: 14rem;
        }
      }
    `,
  ];

  @property({ attribute: false }) material: string | undefined;
  @property({ attribute: false }) against: string | undefined;
  @state() private wanted = '';
  @state() private isWhole = false;

  override render() {
    const all = materialsOf(['film', 'metal', 'substrate'], this.state.batch);
    const wanted = this.wanted.toLowerCase();
    const found = all.filter(({ id, name, formula }) =>
      `${id} ${name} ${formula ?? ''}`.toLowerCase().includes(wanted),
    );
    const own = this.state.batch.materials;
    const shown = findMaterial(this.material ?? 'mgf2', own);
    const other = this.against === undefined ? undefined : findMaterial(this.against, own);
    return html`<div class="stack">
      <h1>Materials</h1>
      <div class="bench">
        <div class="stack">
          <div class="field">
            <label for="search">Search by name, formula or glass code</label>
            <input id="search" type="search" .value=${this.wanted} @input=${(event: Event) => (this.wanted = (event.target as HTMLInputElement).value)} />
          </div>
          <ul class="plain list">
            ${found.map((record) => html`<li><a href=${routeHref({ page: 'materials', material: record.id, against: this.against })} aria-current=${record.id === shown?.id ? 'true' : nothing}>${record.formula === undefined ? record.name : `${formulaText(record.formula)} · ${record.name}`} <span class="soft small">${record.id}${indexWords(record) === '' ? '' : `, ${indexWords(record)}`}</span></a></li>`)}
          </ul>
          <p class="small soft" role="status">${found.length} of ${all.length} materials</p>
        </div>
        <div class="stack">
          ${shown === undefined ? html`<p class="empty">There is no material "${this.material}".</p>` : this.shown(shown, other, all)}
        </div>
      </div>
    </div>`;
  }

  private shown(record: MaterialRecord, other: MaterialRecord | undefined, all: readonly MaterialRecord[]) {
    const records = other === undefined ? [record] : [record, other];
    const onCompare = (event: Event) => {
      const against = (event.target as HTMLSelectElement).value || undefined;
      location.hash = routeHref({ page: 'materials', material: record.id, against });
    };
    const range = this.range(records);
    return html`
      <div class="row head">
        <h2>${records.map(({ name }) => name).join(' and ')}</h2>
        <div class="field">
          <label for="against">Compare with</label>
          <select id="against" .value=${live(this.against ?? '')} @change=${onCompare}>
            <option value="">nothing</option>
            ${all.map(({ id, name }) => html`<option value=${id} ?selected=${id === this.against}>${name} (${id})</option>`)}
          </select>
        </div>
        <label class="flag"><input type="checkbox" .checked=${this.isWhole} @change=${() => (this.isWhole = !this.isWhole)} />whole range of the data</label>
      </div>
      <cw-line-chart .series=${this.series(records, 'n', range)} .markers=${rangeMarkers(records, range)} .xAxis=${{ title: 'Wavelength', unit: 'nm' }} .yAxis=${{ title: 'Refractive index n', unit: '' }} .label=${'Refractive index'} .fileName=${`${record.id}-n`} .digits=${5}></cw-line-chart>
      <cw-line-chart .series=${this.series(records, 'k', range)} .xAxis=${{ title: 'Wavelength', unit: 'nm' }} .yAxis=${{ title: 'Extinction k', unit: '' }} .label=${'Extinction'} .fileName=${`${record.id}-k`} .digits=${4}></cw-line-chart>
      <div class="columns">${records.map((one) => this.record(one))}</div>
    `;
  }

  private range(records: readonly MaterialRecord[]): readonly [number, number] {
    const from = Math.min(...records.map(({ rangeNm }) => rangeNm[0]));
    const to = Math.max(...records.map(({ rangeNm }) => rangeNm[1]));
    if (this.isWhole) return [from, to];
    const [start, end] = [Math.max(from, USUAL_NM[0]), Math.min(to, USUAL_NM[1])];
    return start < end ? [start, end] : [from, to];
  }

  /** Each material's curve, only as far as its data reach. */
  private series(
    records: readonly MaterialRecord[],
    part: 'n' | 'k',
    [from, to]: readonly [number, number],
  ): LineSeries[] {
    return records.map((record): LineSeries => {
      const [start, end] = [Math.max(from, record.rangeNm[0]), Math.min(to, record.rangeNm[1])];
      const x = Float64Array.from(
        { length: POINTS },
        (_, index) => start + ((end - start) * index) / (POINTS - 1),
      );
      return { name: `${part} of ${record.name}`, x, y: resolveIndex(record.id, x, [record])[part] };
    });
  }

  private record(record: MaterialRecord) {
    const { film, bulk, source, hazards = [] } = record;
    const row = (name: string, value: unknown) =>
      value === undefined || value === '' ? nothing : html`<dt>${name}</dt><dd>${value}</dd>`;
    return html`<div class="group">
      <h3>${record.name}</h3>
      ${record.caution === undefined ? nothing : html`<p class="said">${record.caution}</p>`}
      <dl class="record">
        ${row('Id', record.id)}
        ${row('Formula', record.formula === undefined ? undefined : formulaText(record.formula))}
        ${row('Measured on', record.description ?? record.kind)}
        ${row('Data from', `${significant(record.rangeNm[0], 4)} to ${significant(record.rangeNm[1], 5)} nm; outside, the nearer end's value is held and flagged`)}
        ${row('At 587.6 nm', indexWords(record))}
        ${film === undefined ? nothing : html`${row('Density', `${fixed(film.densityGPerCm3.value, 2)} g/cm³`)}${row('Z-ratio', `${significant(film.zRatio.value, 3)}${film.zRatio.known ? '' : ' (not known, assumed)'}`)}${row('Usual source', film.vapourSource.value)}`}
        ${bulk?.densityGPerCm3 === undefined ? nothing : row('Density', `${fixed(bulk.densityGPerCm3, 2)} g/cm³`)}
        ${bulk?.abbeNumber === undefined ? nothing : row('Abbe number', fixed(bulk.abbeNumber, 1))}
        ${row('Source', source.cites)}
        ${row('DOI', source.doi?.join(', '))}
        ${row('Data set', source.dataset)}
        ${row('How it came here', source.provenance)}
      </dl>
      ${hazards.length === 0 ? nothing : html`<h3>Hazards</h3><ul>${hazards.map(({ fact }) => html`<li>${fact}</li>`)}</ul><p class="small soft">The safety data sheet of the supplier, local codes and licensed practice come first.</p>`}
    </div>`;
  }
}

/** Where one material's data end within what is shown. */
function rangeMarkers(
  records: readonly MaterialRecord[],
  [from, to]: readonly [number, number],
): ChartMarker[] {
  return records
    .flatMap(({ rangeNm }) => [...rangeNm])
    .filter((edge) => edge > from && edge < to)
    .map((x) => ({ kind: 'boundary', x }));
}
