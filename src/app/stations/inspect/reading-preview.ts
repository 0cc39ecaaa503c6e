import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { fixed, significant } from '../../../base/format.ts';
import type { MeasuredSpectrum } from '../../../batch/document.ts';
import { batchAsRun } from '../../../batch/run-planned.ts';
import { VALUE_SCALES, X_UNITS } from '../../../inspect/column-heading.ts';
import type { MeasuredSpectrum as ReadSpectrum } from '../../../inspect/measured-spectrum.ts';
import { StationElement } from '../../station-element.ts';
import { sentenceOf } from '../../task-run.ts';
import { labelOf } from '../material-words.ts';
import './baseline-panel.ts';
import { type ReadingChange, rereadEdit } from './reread-edit.ts';
import { rereadSpectrum } from './reread-spectrum.ts';

const SMOOTHINGS = [5, 7, 9, 11, 15, 21];
const UNIT_WORDS = { nm: 'nm', um: 'µm', 'cm-1': 'cm⁻¹', angstrom: 'Å', eV: 'eV' } as const;
const QUANTITY_CHOICES = [
  ['R', 'reflectance'],
  ['T', 'transmittance'],
  ['A', 'absorptance'],
] as const;
const FIRST_ROWS = 3;

/** What was understood when a file was read, with the choices that correct it; each is an edit that rereads the original. */
@customElement('app-reading-preview')
export class ReadingPreview extends StationElement {
  @property({ attribute: false }) spectrum!: MeasuredSpectrum;
  @property({ type: Number }) runIndex = 0;
  @property({ type: Number }) place = 0;
  @state() private fault = '';

  override render() {
    const { spectrum } = this;
    if (spectrum.original === undefined)
      return html`<p class="small soft">The original file is not kept with this spectrum; it cannot be read anew.</p>`;
    return html`<details>
      <summary>How ${spectrum.name} was understood</summary>
      ${this.understood()}
    </details>`;
  }

  /** The batch as it was when the run was logged: its glass is that of the piece. */
  private get asRun() {
    const { batch } = this.state;
    return batchAsRun(batch, batch.runs[this.runIndex]!);
  }

  private understood() {
    let read: ReadSpectrum;
    try {
      read = rereadSpectrum(this.asRun, this.spectrum, this.spectrum.reading ?? {});
    } catch (error) {
      return html`<p class="said">${sentenceOf(error)}</p>`;
    }
    const { understood, columns, warnings, wavelengthNm, values, quantity } = read;
    const reading = this.spectrum.reading ?? {};
    const used = columns.find(({ role, isUsed }) => isUsed && role === 'value');
    const glass = labelOf(this.asRun.order.lens.substrate, this.state.batch);
    const { delimiter, decimalMark } = understood;
    return html`<div class="stack">
      <p class="small">${understood.format === 'columns' ? 'A table of columns' : 'JCAMP-DX'}${delimiter === undefined ? nothing : `, parted by: ${delimiter}`}${decimalMark === undefined ? nothing : `, decimal mark "${decimalMark}"`}: ${wavelengthNm.length} readings from ${significant(wavelengthNm[0]!, 5)} to ${significant(wavelengthNm.at(-1)!, 5)} nm, beginning ${[...wavelengthNm.subarray(0, FIRST_ROWS)].map((nm, i) => `${significant(nm, 5)} nm ${fixed(100 * values[i]!, 3)} %`).join(', ')}.</p>
      ${warnings.map((warning) => html`<p class="small">${warning}</p>`)}
      <div class="fields">
        ${this.choice(
          'column',
          'Column of values',
          String(used?.number ?? ''),
          columns.map(({ number, heading }) => [
            String(number),
            `${number}: ${heading === '' ? 'without a heading' : heading}`,
          ]),
          (value) => ({ column: Number(value) }),
        )}
        ${this.choice(
          'unit',
          'Spectral axis in',
          understood.xUnit,
          X_UNITS.map((unit) => [unit, UNIT_WORDS[unit]]),
          (xUnit) => ({ xUnit }),
        )}
        ${this.choice(
          'scale',
          'Values written as',
          understood.scale,
          VALUE_SCALES.map((scale) => [scale, scale]),
          (scale) => ({ scale }),
        )}
        ${this.choice('quantity', 'They are', quantity, QUANTITY_CHOICES, (chosen) => ({ quantity: chosen }))}
        ${this.choice('noise', 'Noise', String(reading.smoothPoints ?? 0), [['0', 'left as it is'], ...SMOOTHINGS.map((points) => [String(points), `smoothed over ${points} points`] as const)], (points) => ({ smoothPoints: points === '0' ? undefined : Number(points) }))}
        ${this.choice(
          'back',
          'Back of the piece',
          reading.bareBackRemoved ? 'bare' : 'none',
          [
            ['none', 'nothing taken off'],
            ['bare', `bare back of ${glass} taken off`],
          ],
          (back) => ({ bareBackRemoved: back === 'bare' ? true : undefined }),
        )}
      </div>
      <app-baseline-panel .bench=${this.bench} .state=${this.state} .spectrum=${this.spectrum} .read=${read} .runIndex=${this.runIndex} .place=${this.place}></app-baseline-panel>
      ${this.fault === '' ? nothing : html`<p class="said" role="status">${this.fault}</p>`}
      <p class="small soft">The original stays with the batch as it was read. Smoothing makes the residuals smaller and the stated doubts of a fit too small; fit what was measured, smooth for the eye.</p>
    </div>`;
  }

  private choice<Value extends string>(
    name: string,
    label: string,
    value: Value,
    choices: readonly (readonly [Value, string])[],
    change: (value: Value) => ReadingChange,
  ) {
    const onChange = (event: Event) => {
      const select = event.target as HTMLSelectElement;
      const chosen = select.value as Value;
      const words = choices.find(([key]) => key === chosen)?.[1] ?? chosen;
      if (!this.reread(`${label}: ${words}`, change(chosen))) select.value = value;
    };
    return html`<div class="field"><label for=${name}>${label}</label><select id=${name} @change=${onChange}>${choices.map(([key, words]) => html`<option value=${key} ?selected=${key === value}>${words}</option>`)}</select></div>`;
  }

  private reread(what: string, change: ReadingChange): boolean {
    const place = { run: this.runIndex, spectrum: this.place };
    this.fault = rereadEdit(this.bench, this.spectrum, place, what, change);
    return this.fault === '';
  }
}
