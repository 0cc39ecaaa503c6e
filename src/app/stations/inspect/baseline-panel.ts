import { css, html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { significant } from '../../../base/format.ts';
import type { MeasuredSpectrum } from '../../../batch/document.ts';
import { batchAsRun } from '../../../batch/run-planned.ts';
import type { SpectrumBaseline } from '../../../batch/run-record.ts';
import '../../../elements/quantity-field/cw-quantity-field.ts';
import type { QuantityChangeEvent } from '../../../elements/quantity-field/quantity-events.ts';
import type { MeasuredSpectrum as ReadSpectrum } from '../../../inspect/measured-spectrum.ts';
import { readSpectrum } from '../../../inspect/read-spectrum.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { sentenceOf } from '../../task-run.ts';
import { labelOf } from '../material-words.ts';
import { type ReadingChange, rereadEdit } from './reread-edit.ts';

type LineName = 'zero' | 'full' | 'certificate';

const LINES: readonly (readonly [LineName, string, string])[] = [
  ['zero', '0 % line', 'taken as 0 %'],
  ['full', '100 % line, or scan of the reference', 'taken as 100 %'],
  ['certificate', "reference's certificate", 'none'],
];

/** The scale that a spectrum stands on: lines of the instrument and the truth of its reference. Nothing is corrected unasked. */
@customElement('app-baseline-panel')
export class BaselinePanel extends StationElement {
  static override styles = [
    stationStyles,
    css`
      input[type='file'] {
        display: none;
      }
    `,
  ];

  @property({ attribute: false }) spectrum!: MeasuredSpectrum;
  /** How the original is read now. */
  @property({ attribute: false }) read!: ReadSpectrum;
  @property({ type: Number }) runIndex = 0;
  @property({ type: Number }) place = 0;
  @state() private fault = '';

  override render() {
    const baseline = this.spectrum.reading?.baseline;
    const { batch } = this.state;
    const { order } = batchAsRun(batch, batch.runs[this.runIndex]!);
    const glass = labelOf(order.lens.substrate, batch);
    const isBare = baseline?.bareReference === true;
    return html`<details ?open=${baseline !== undefined}>
      <summary>Baseline: ${baseline === undefined ? 'nothing corrected' : baselineWords(baseline, glass)}</summary>
      <div class="stack">
        <p class="small">Corrected is reference × (reading − 0 % line) / (100 % line − 0 % line). Use lines that the instrument wrote on the same day with the same settings, and only where its own software has not applied them already.</p>
        ${LINES.map(([name, label, otherwise]) => this.line(name, label, otherwise, baseline))}
        <div class="fields">
          <cw-quantity-field label="True value of the reference" unit="%" .above=${0} .max=${100} optional .value=${baseline?.referencePercent} .disabled=${isBare || baseline?.certificate !== undefined} @cw-quantity-change=${this.onReference}></cw-quantity-field>
          <label class="flag"><input type="checkbox" .checked=${isBare} @change=${this.onBare} /><span>The reference was one bare surface of ${glass}</span></label>
        </div>
        ${baseline === undefined ? nothing : html`<div><button class="quiet" @click=${() => this.change('baseline left as it is', undefined)}>Remove the baseline correction</button></div>`}
        ${this.fault === '' ? nothing : html`<p class="said" role="status">${this.fault}</p>`}
      </div>
    </details>`;
  }

  private line(name: LineName, label: string, otherwise: string, baseline: SpectrumBaseline | undefined) {
    const id = `line-${name}`;
    const held = baseline?.[name];
    const pick = () => (this.renderRoot.querySelector(`#${id}`) as HTMLInputElement).click();
    const remove = () => {
      const { [name]: _, ...rest } = baseline ?? {};
      this.change(`${label}: ${otherwise}`, rest);
    };
    return html`<div class="row"><span>${label}: ${held === undefined ? html`<span class="soft">${otherwise}</span>` : held.name}</span>
      <button @click=${pick}>Read the ${label} …</button>
      ${held === undefined ? nothing : html`<button class="quiet" aria-label="Remove the ${label}" @click=${remove}>Remove</button>`}
      <input id=${id} type="file" accept=".csv,.txt,.dat,.asc,.tsv,.dx,.jdx,text/plain,text/csv" tabindex="-1" aria-label=${label} @change=${(event: Event) => this.onFile(name, label, event)} /></div>`;
  }

  private async onFile(name: LineName, label: string, event: Event): Promise<void> {
    const input = event.target as HTMLInputElement;
    const file = input.files?.[0];
    input.value = '';
    if (file === undefined) return;
    const bytes = new Uint8Array(await file.arrayBuffer());
    try {
      // A line near zero does not show its scale: where it names none it has that of the spectrum.
      const { wavelengthNm, values } = readSpectrum(bytes, { usualScale: this.read.understood.scale });
      const line = { name: file.name.slice(0, 200), wavelengthNm: [...wavelengthNm], values: [...values] };
      this.change(`${label} ${line.name}`, { ...this.spectrum.reading?.baseline, [name]: line });
    } catch (error) {
      this.fault = `${file.name} was not taken in: ${sentenceOf(error)} Nothing was changed.`;
    }
  }

  private readonly onReference = ({ value }: QuantityChangeEvent): void => {
    const { referencePercent: _, ...rest } = this.spectrum.reading?.baseline ?? {};
    this.change(
      `reference of ${value === undefined ? 100 : significant(value, 4)} %`,
      value === undefined ? rest : { ...rest, referencePercent: value },
    );
  };

  private readonly onBare = (event: Event): void => {
    const { bareReference: _, ...rest } = this.spectrum.reading?.baseline ?? {};
    const isBare = (event.target as HTMLInputElement).checked;
    this.change(
      isBare ? 'reference a bare surface' : 'reference no bare surface',
      isBare ? { ...rest, bareReference: true } : rest,
    );
  };

  private change(what: string, baseline: SpectrumBaseline | undefined): void {
    const isEmpty = baseline === undefined || Object.keys(baseline).length === 0;
    const change: ReadingChange = { baseline: isEmpty ? undefined : baseline };
    const place = { run: this.runIndex, spectrum: this.place };
    this.fault = rereadEdit(this.bench, this.spectrum, place, what, change);
    this.requestUpdate();
  }
}

/** What was corrected, in a few words. */
export function baselineWords(
  { zero, full, certificate, referencePercent, bareReference }: SpectrumBaseline,
  glass: string,
): string {
  const reference = bareReference
    ? `a bare surface of ${glass}`
    : certificate !== undefined
      ? certificate.name
      : referencePercent === undefined
        ? undefined
        : `${significant(referencePercent, 4)} %`;
  return [
    ...(zero === undefined ? [] : [`0 % line ${zero.name}`]),
    ...(full === undefined ? [] : [`100 % line ${full.name}`]),
    ...(reference === undefined ? [] : [`reference ${reference}`]),
  ].join(', ');
}
