import { css, html, nothing, type PropertyValues } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import { counted } from '../../../base/format.ts';
import type { MeasuredSpectrum, RunRecord, Surface } from '../../../batch/document.ts';
import type { SurfacePlan } from '../../../batch/plan/plan-types.ts';
import '../../../elements/quantity-field/cw-quantity-field.ts';
import type { QuantityInputEvent } from '../../../elements/quantity-field/quantity-events.ts';
import '../../../elements/spectrum-chart/cw-spectrum-chart.ts';
import type { SpectrumCurve } from '../../../elements/spectrum-chart/spectrum-chart-data.ts';
import '../../../elements/verdict/cw-verdict.ts';
import { findRuns, runLogCsv, runLogJson } from '../../../batch/run-log.ts';
import { decodeText } from '../../../inspect/decode-text.ts';
import { readSpectrum } from '../../../inspect/read-spectrum.ts';
import { downloadText } from '../../download.ts';
import { choiceField, type Desk, numberField, textField } from '../../fields/fields.ts';
import '../../shell/change-line.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { plain, surfaceOf } from '../order/requirement-edits.ts';
import { sidePicker, withoutPlan } from '../sides-shown.ts';
import { spectrumLimits } from '../stack/spectrum-view.ts';
import { fitDeskOf } from './fit-desk.ts';
import './fit-panel.ts';
import { fitRequest } from './fit-request.ts';
import './reading-preview.ts';
import './run-trail.ts';
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
  /** Id of the spectrum that is fitted, where a run has several. */
  @state() private openSpectrum: string | undefined;
  @state() private wanted = '';
  @state() private fault = '';
  @state() private read = '';
  @query('input[type="file"]') private readonly file!: HTMLInputElement;
  @query('#pasted') private readonly pasted!: HTMLTextAreaElement;

  #leave: (() => void) | undefined;

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.bench !== undefined) this.#listen();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#leave?.();
    this.#leave = undefined;
  }

  protected override firstUpdated(): void {
    this.#listen();
  }

  #listen(): void {
    this.#leave ??= fitDeskOf(this.bench).subscribe(() => this.requestUpdate());
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    super.willUpdate(changed);
    const desk = fitDeskOf(this.bench);
    const run = this.#run;
    const spectrum = this.#fitted(run);
    const surface = this.#surface(run);
    const key = `${this.state.batch.id} ${run?.id} ${spectrum?.id}`;
    if (key !== desk.about) {
      desk.about = key;
      desk.fit.forget();
    }
    if (spectrum === undefined || surface.layers.length === 0) return;
    desk.fit.follow(fitRequest(this.state.batch, surface, spectrum, desk.wishes));
  }

  get #run(): RunRecord | undefined {
    const { runs } = this.state.batch;
    return runs.find(({ id }) => id === this.openRun) ?? runs.at(-1);
  }

  /** The spectrum that is fitted: the one picked, else the first that is no absorptance. */
  #fitted(run: RunRecord | undefined): MeasuredSpectrum | undefined {
    const fitting = run?.spectra.filter(({ quantity }) => quantity !== 'A') ?? [];
    return fitting.find(({ id }) => id === this.openSpectrum) ?? fitting[0];
  }

  #surface(run: RunRecord | undefined): Surface {
    const { batch } = this.state;
    return surfaceOf(batch, run?.side ?? 'front') ?? batch.surfaces.front;
  }

  override render() {
    const { state: now, bench } = this;
    const desk: Desk = { bench, state: now };
    const { runs } = now.batch;
    const run = this.#run;
    const side = run?.side ?? 'front';
    const plan = now.plan?.surfaces.find((surface) => surface.side === side) ?? now.plan?.surfaces[0];
    return html`<div class="stack" @dragover=${this.onDragOver} @drop=${this.onDrop}>
      <div class="row head"><h1>Inspect</h1>${sidePicker(desk)}</div>
      <app-change-line .state=${now} .station=${'inspect'}></app-change-line>
      <div class="bench">
        <div class="stack">
          <div class="row">
            <button class="main" @click=${() => this.file.click()}>Read a measured spectrum …</button>
            <button @click=${() => this.addRun()}>Log a run</button>
            <input type="file" accept=".csv,.txt,.dat,.asc,.tsv,.dx,.jdx,text/plain,text/csv" tabindex="-1" aria-label="Measured spectrum" @change=${this.onFile} />
          </div>
          <details><summary>Or drop files anywhere here, or paste the text of one</summary>
            <div class="field wide"><label for="pasted">Text of a measured spectrum</label><textarea id="pasted" rows="4"></textarea></div>
            <button @click=${this.onPasted}>Read the pasted text</button>
          </details>
          <p role="status" class=${this.fault === '' ? 'small soft' : 'said'}>${this.fault === '' ? this.read : this.fault}</p>
          ${
            runs.length === 0
              ? html`<p class="empty">No run is logged yet. After the run, read the spectrophotometer's file of a witness or a lens: wavelength and value in two columns, in nm or µm, per cent or fraction. It is kept with the batch, drawn against the plan, and judged by the requirements.</p>`
              : this.log(desk, run)
          }
          ${now.batch.trail === undefined ? nothing : html`<app-run-trail .bench=${bench} .state=${now}></app-run-trail>`}
        </div>
        <div class="stack picture">
          ${plan === undefined ? withoutPlan(now) : this.chart(plan, run)}
          ${run === undefined || plan === undefined ? nothing : this.verdicts(run)}
          ${run === undefined ? nothing : this.fitPart(run)}
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
      ({ name, wavelengthNm, values }): SpectrumCurve => ({ name, wavelengthNm, values, points: true }),
    );
    return html`<cw-spectrum-chart
      .curves=${[...planned, ...measured, ...this.asBuilt(run)]}
      .limits=${spectrumLimits(requirements, plan)}
      .quantity=${quantity}
      .label=${'Measured, planned and as built'}
      .fileName=${`${this.state.batch.id}-measured`}
    ></cw-spectrum-chart>`;
  }

  private fitPart(run: RunRecord) {
    const spectrum = this.#fitted(run);
    const surface = this.#surface(run);
    if (spectrum === undefined || surface.layers.length === 0) return nothing;
    const choices = run.spectra.filter(({ quantity }) => quantity !== 'A');
    const onPick = (event: Event) => {
      this.openSpectrum = (event.target as HTMLSelectElement).value;
    };
    return html`${
      choices.length < 2
        ? nothing
        : html`<div class="field"><label for="fitted">Spectrum that is fitted</label><select id="fitted" @change=${onPick}>${choices.map(({ id, name }) => html`<option value=${id} ?selected=${id === spectrum.id}>${name}</option>`)}</select></div>`
    }<app-fit-panel .bench=${this.bench} .state=${this.state} .run=${run} .surface=${surface} .spectrum=${spectrum} .told=${fitDeskOf(this.bench).fit.state}></app-fit-panel>`;
  }

  /** The as-built curve of a fit that is up to date. */
  private asBuilt(run: RunRecord | undefined): SpectrumCurve[] {
    const spectrum = this.#fitted(run);
    const { answer, state: now } = fitDeskOf(this.bench).fit;
    if (spectrum === undefined || answer === undefined || now.kind !== 'answered') return [];
    const { wavelengthNm, values, name } = spectrum;
    return [
      {
        name: `as built, fitted to ${name}`,
        wavelengthNm,
        values: values.map((value, place) => value - answer.residual[place]!),
        colour: 'ink',
      },
    ];
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
            ${record.spectra.map((spectrum, place) => this.spectrumEntry(desk, index, spectrum, place))}
            <app-run-trail .bench=${bench} .state=${this.state} .run=${record}></app-run-trail>`
          : html`<span class="small soft">${counted(record.spectra.length, 'spectrum', 'spectra')}</span>`
      }
    </div>`;
  }

  private log(desk: Desk, open: RunRecord | undefined) {
    const { batch } = this.state;
    const { runs } = batch;
    const found = findRuns(batch, this.wanted);
    const onSearch = (event: Event) => {
      this.wanted = (event.target as HTMLInputElement).value;
    };
    return html`<div class="group"><h2>${counted(runs.length, 'run')} logged</h2>
      <div class="row">
        <div class="field wide"><label for="wanted">Search the run log</label><input id="wanted" type="search" .value=${this.wanted} @input=${onSearch} /></div>
        <button @click=${() => downloadText(`${batch.id}-runs.csv`, runLogCsv(batch), 'text/csv')}>Run log as CSV</button>
        <button @click=${() => downloadText(`${batch.id}-runs.json`, runLogJson(batch), 'application/json')}>Run log as JSON</button>
      </div>
      ${found.length === 0 ? html`<p class="empty">No logged run holds all of these words.</p>` : found.map((record) => this.runEntry(desk, record, runs.indexOf(record), record.id === open?.id))}
    </div>`;
  }

  private spectrumEntry(desk: Desk, run: number, spectrum: MeasuredSpectrum, place: number) {
    const { name, wavelengthNm } = spectrum;
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
    </div><app-reading-preview .bench=${this.bench} .state=${this.state} .spectrum=${spectrum} .runIndex=${run} .place=${place}></app-reading-preview>`;
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
    this.take(file.name, new Uint8Array(await file.arrayBuffer()));
  };

  private readonly onDragOver = (event: DragEvent): void => {
    if (event.dataTransfer?.types.includes('Files')) event.preventDefault();
  };

  private readonly onDrop = async (event: DragEvent): Promise<void> => {
    const files = [...(event.dataTransfer?.files ?? [])];
    if (files.length === 0) return;
    event.preventDefault();
    for (const file of files) this.take(file.name, new Uint8Array(await file.arrayBuffer()));
  };

  private readonly onPasted = (): void => {
    if (this.take('Pasted text', new TextEncoder().encode(this.pasted.value))) this.pasted.value = '';
  };

  /** Takes a spectrum into the open run; false, with a sentence on the screen, where the bytes hold none. */
  private take(fileName: string, bytes: Uint8Array): boolean {
    try {
      const { wavelengthNm, values, quantity, understood, warnings } = readSpectrum(bytes);
      const text = decodeText(bytes).text;
      const id = this.openRun ?? this.state.batch.runs.at(-1)?.id ?? this.addRun();
      const name = fileName.slice(0, 200);
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
      return true;
    } catch (error) {
      this.fault = `${fileName} was not taken in: ${error instanceof Error ? error.message : String(error)}. Nothing was changed.`;
      return false;
    }
  }
}
