import { css, html, nothing } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import { counted } from '../../../base/format.ts';
import type { MeasuredSpectrum, RunRecord } from '../../../batch/document.ts';
import type { SurfacePlan } from '../../../batch/plan/plan-types.ts';
import '../../../elements/quantity-field/cw-quantity-field.ts';
import type { QuantityInputEvent } from '../../../elements/quantity-field/quantity-events.ts';
import '../../../elements/spectrum-chart/cw-spectrum-chart.ts';
import type { SpectrumCurve } from '../../../elements/spectrum-chart/spectrum-chart-data.ts';
import '../../../elements/verdict/cw-verdict.ts';
import { decodeText } from '../../../inspect/decode-text.ts';
import { readSpectrum } from '../../../inspect/read-spectrum.ts';
import { choiceField, type Desk, numberField, textField } from '../../fields/fields.ts';
import '../../shell/change-line.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { plain, surfaceOf } from '../order/requirement-edits.ts';
import { sidePicker, withoutPlan } from '../sides-shown.ts';
import { spectrumLimits } from '../stack/spectrum-view.ts';
import { verdictLines } from './verdict-lines.ts';

const QUANTITY_WORDS = { R: 'reflectance', T: 'transmittance', A: 'absorptance' } as const;

/** Inspect: was it what was ordered? Measured spectra against plan and requirements, run by run. */
@customElement('app-inspect-station')
export class InspectStation extends StationElement {
  static override styles = [
    stationStyles,
    css`
      input[type='file'] {
        display: none;
      }
      .verdicts {
        display: grid;
        gap: var(--cw-space-2);
        justify-items: start;
        margin: 0;
        padding: 0;
        list-style: none;
      }
      .run {
        display: grid;
        gap: var(--cw-space-3);
        padding-block: var(--cw-space-3);
        border-top: var(--cw-hairline) solid var(--cw-rule);
      }
      .run.open {
        border-left: 4px solid var(--cw-residual);
        padding-left: var(--cw-space-3);
      }
    `,
  ];

  @state() private openRun: string | undefined;
  /** One standard deviation of a reading, in per cent of full scale. */
  @state() private uncertaintyPercent = 0;
  @state() private fault = '';
  @state() private read = '';
  @query('input[type="file"]') private readonly file!: HTMLInputElement;

  override render() {
    const { state: now, bench } = this;
    const desk: Desk = { bench, state: now };
    const { runs } = now.batch;
    const run = runs.find(({ id }) => id === this.openRun) ?? runs.at(-1);
    const side = run?.side ?? 'front';
    const plan = now.plan?.surfaces.find((surface) => surface.side === side) ?? now.plan?.surfaces[0];
    return html`<div class="stack">
      <div class="row head"><h1>Inspect</h1>${sidePicker(desk)}</div>
      <app-change-line .state=${now} .station=${'inspect'}></app-change-line>
      <div class="bench">
        <div class="stack">
          <div class="row">
            <button class="main" @click=${() => this.file.click()}>Read a measured spectrum …</button>
            <button @click=${() => this.addRun()}>Log a run</button>
            <input type="file" accept=".csv,.txt,.dat,.asc,.tsv,.dx,.jdx,text/plain,text/csv" tabindex="-1" aria-label="Measured spectrum" @change=${this.onFile} />
          </div>
          <p role="status" class=${this.fault === '' ? 'small soft' : 'said'}>${this.fault === '' ? this.read : this.fault}</p>
          ${
            runs.length === 0
              ? html`<p class="empty">No run is logged yet. After the run, read the spectrophotometer's file of a witness or a lens: wavelength and value in two columns, in nm or µm, per cent or fraction. It is kept with the batch, drawn against the plan, and judged by the requirements.</p>`
              : html`<div class="group"><h2>${counted(runs.length, 'run')} logged</h2>${runs.map((record, index) => this.runEntry(desk, record, index, record.id === run?.id))}</div>`
          }
        </div>
        <div class="stack picture">
          ${plan === undefined ? withoutPlan(now) : this.chart(plan, run)}
          ${run === undefined || plan === undefined ? nothing : this.verdicts(run)}
        </div>
      </div>
    </div>`;
  }

  private chart(plan: SurfacePlan, run: RunRecord | undefined) {
    const requirements = surfaceOf(this.state.batch, plan.own ? plan.side : 'front')?.requirements ?? [];
    const spectra = run?.spectra ?? [];
    const quantity = spectra[0]?.quantity ?? 'R';
    const planned = plan.curves.map(
      ({ incidenceDeg, mean }): SpectrumCurve => ({
        name: `planned at ${incidenceDeg}°`,
        wavelengthNm: plan.wavelengthNm,
        values: mean[quantity],
        dash: 'dashed',
      }),
    );
    const measured = spectra.map(
      ({ name, wavelengthNm, values }): SpectrumCurve => ({ name, wavelengthNm, values }),
    );
    return html`<cw-spectrum-chart
      .curves=${[...planned, ...measured]}
      .limits=${spectrumLimits(requirements, plan)}
      .quantity=${quantity}
      .label=${'Measured against planned'}
      .fileName=${`${this.state.batch.id}-measured`}
    ></cw-spectrum-chart>`;
  }

  private verdicts(run: RunRecord) {
    const requirements =
      surfaceOf(this.state.batch, run.side)?.requirements ?? this.state.batch.surfaces.front.requirements;
    if (run.spectra.length === 0) return nothing;
    return html`${this.uncertaintyField()}${run.spectra.map(
      (spectrum) => html`<div class="group"><h3>${spectrum.name}</h3>
        <ul class="verdicts">
          ${verdictLines(requirements, spectrum, this.uncertaintyPercent).map(({ sign, text }) => html`<li><cw-verdict .verdict=${sign}>${text}</cw-verdict></li>`)}
        </ul>
      </div>`,
    )}`;
  }

  private uncertaintyField() {
    const onInput = ({ value }: QuantityInputEvent) => {
      this.uncertaintyPercent = value ?? 0;
    };
    return html`<cw-quantity-field label="Uncertainty of a reading, one standard deviation" unit="%" .value=${this.uncertaintyPercent} .min=${0} .max=${10} @cw-quantity-input=${onInput}></cw-quantity-field>`;
  }

  private runEntry(desk: Desk, record: RunRecord, index: number, isOpen: boolean) {
    const { bench } = this;
    const path = ['runs', index] as const;
    const name = `Run ${record.number}`;
    const remove = () =>
      bench.edit({
        name: `${name} taken out of the log`,
        recipe: (draft) => void draft.runs.splice(index, 1),
      });
    return html`<div class="run ${isOpen ? 'open' : ''}" role="group" aria-label=${name}>
      <div class="row head">
        <h3>${name}, ${record.side}</h3>
        <span class="small soft">${record.startedAt.replace('T', ' ').slice(0, 16)}</span>
        ${isOpen ? nothing : html`<button class="quiet" @click=${() => this.show(record.id)}>Show</button>`}
        <button class="quiet" aria-label="Take ${name} out of the log" @click=${remove}>Remove</button>
      </div>
      ${
        isOpen
          ? html`<div class="fields">
              ${choiceField(
                desk,
                [...path, 'side'],
                'Side',
                [
                  ['front', 'front'],
                  ['back', 'back'],
                ],
                { name: `${name}: side` },
              )}
              ${textField(desk, [...path, 'operator'], 'Operator, initials', { maxLength: 40 })}
              ${textField(desk, [...path, 'note'], 'What happened', { optional: true, lines: 2, maxLength: 4000 })}
            </div>
            ${record.spectra.map((spectrum, place) => this.spectrumEntry(desk, index, spectrum, place))}`
          : html`<span class="small soft">${counted(record.spectra.length, 'spectrum', 'spectra')}</span>`
      }
    </div>`;
  }

  private spectrumEntry(desk: Desk, run: number, { name, wavelengthNm }: MeasuredSpectrum, place: number) {
    const path = ['runs', run, 'spectra', place] as const;
    const remove = () =>
      this.bench.edit({
        name: `${name} taken out`,
        recipe: (draft) => void draft.runs[run]?.spectra.splice(place, 1),
      });
    return html`<div class="fields" role="group" aria-label=${name}>
      ${textField(desk, [...path, 'name'], 'Spectrum', { maxLength: 200 })}
      ${choiceField(desk, [...path, 'quantity'], 'Quantity', [
        ['R', 'reflectance'],
        ['T', 'transmittance'],
        ['A', 'absorptance'],
      ])}
      ${numberField(desk, [...path, 'incidenceDeg'], 'Measured at')}
      ${textField(desk, [...path, 'place'], 'Place in the load', { optional: true, maxLength: 80 })}
      <div class="field"><span class="small soft">${counted(wavelengthNm.length, 'reading')}</span><button class="quiet" aria-label="Take ${name} out" @click=${remove}>Remove</button></div>
    </div>`;
  }

  private show(id: string): void {
    this.openRun = id;
  }

  private addRun(): string {
    const { runs } = this.state.batch;
    const number = Math.max(0, ...runs.map((run) => run.number)) + 1;
    const id = `run-${number}`;
    this.bench.edit({
      name: `Run ${number} logged`,
      recipe: (draft) =>
        void draft.runs.push({
          id,
          number,
          side: 'front',
          startedAt: new Date().toISOString(),
          operator: '',
          spectra: [],
        }),
    });
    this.openRun = id;
    return id;
  }

  private readonly onFile = async (): Promise<void> => {
    const file = this.file.files?.[0];
    this.file.value = '';
    if (file === undefined) return;
    const bytes = new Uint8Array(await file.arrayBuffer());
    try {
      const { wavelengthNm, values, quantity, understood, warnings } = readSpectrum(bytes);
      const text = decodeText(bytes).text;
      const id = this.openRun ?? this.state.batch.runs.at(-1)?.id ?? this.addRun();
      const name = file.name.slice(0, 200);
      this.bench.edit({
        name: `Spectrum ${name} read`,
        recipe: (draft) => {
          const run = draft.runs.find((record) => record.id === id);
          if (run === undefined) return;
          const number = run.spectra.length + 1;
          run.spectra.push(
            plain({
              id: `${id}-${number}-${Date.now().toString(36)}`,
              name,
              side: run.side,
              quantity,
              incidenceDeg: 0,
              wavelengthNm: [...wavelengthNm],
              values: [...values],
              ...(text.length <= 2_000_000 ? { original: text } : {}),
            }),
          );
        },
      });
      this.fault = '';
      this.read = `${name}: ${counted(values.length, 'reading')}. Read as ${QUANTITY_WORDS[quantity]}, ${understood.scale}, over ${understood.xUnit}. ${warnings.join(' ')}`;
    } catch (error) {
      this.fault = `${file.name} was not taken in: ${error instanceof Error ? error.message : String(error)}. Nothing was changed.`;
    }
  };
}
