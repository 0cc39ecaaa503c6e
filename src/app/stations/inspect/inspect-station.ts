import { css, html, nothing, type PropertyValues } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { counted } from '../../../base/format.ts';
import { designChanges } from '../../../batch/design-changes.ts';
import type { MeasuredSpectrum, RunRecord, Surface } from '../../../batch/document.ts';
import { aimInWords } from '../../../batch/plan/aim.ts';
import type { SurfacePlan } from '../../../batch/plan/plan-types.ts';
import { batchAsRun, coatingAsRun, coatingOf, plannedRun } from '../../../batch/run-planned.ts';
import '../../../elements/spectrum-chart/cw-spectrum-chart.ts';
import type { SpectrumCurve } from '../../../elements/spectrum-chart/spectrum-chart-data.ts';
import { decodeText } from '../../../inspect/decode-text.ts';
import { asPlanned, predictCoating, reachOf } from '../../../inspect/predict-coating.ts';
import { readSpectrum } from '../../../inspect/read-spectrum.ts';
import { findRuns, runLogCsv, runLogJson } from '../../../inspect/run-log.ts';
import { downloadText } from '../../download.ts';
import type { Desk } from '../../fields/fields.ts';
import '../../shell/change-line.ts';
import { Follows } from '../../follows.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { plain } from '../order/requirement-edits.ts';
import { sidePicker, withoutPlan } from '../sides-shown.ts';
import { spectrumLimits } from '../stack/spectrum-view.ts';
import { codeAnswer } from './code-answer.ts';
import './control-charts.ts';
import { fitDeskOf } from './fit-desk.ts';
import './fit-panel.ts';
import { fitRequest } from './fit-request.ts';
import type { RunOpenedEvent } from './run-entry.ts';
import './run-entry.ts';
import './run-trail.ts';
import './verdict-panel.ts';

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
    `,
  ];

  /** Id of the run that the address asks for. */
  @property({ attribute: false }) wantedRun: string | undefined;
  /** Fingerprint, without hyphens, of the sheet whose code led here. */
  @property({ attribute: false }) sheet: string | undefined;
  @state() private openRun: string | undefined;
  /** Id of the spectrum that is fitted, where a run has several. */
  @state() private openSpectrum: string | undefined;
  /** Quantity that the chart shows, where the spectra are of several. */
  @state() private shownQuantity: MeasuredSpectrum['quantity'] | undefined;
  @state() private wanted = '';
  @state() private fault = '';
  @state() private read = '';
  @query('input[type="file"]') private readonly file!: HTMLInputElement;
  @query('#pasted') private readonly pasted!: HTMLTextAreaElement;

  readonly follows = new Follows(this, () => fitDeskOf(this.bench));

  protected override willUpdate(changed: PropertyValues<this>): void {
    super.willUpdate(changed);
    if (changed.has('wantedRun') && this.wantedRun !== undefined) this.openRun = this.wantedRun;
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
    desk.fit.follow(fitRequest(batchAsRun(this.state.batch, run!), surface, spectrum, desk.wishes));
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
    return run === undefined ? batch.surfaces.front : coatingAsRun(batch, run);
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
      ${codeAnswer(now.batch, this.wantedRun, this.sheet)}
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
              : this.log(run)
          }
          ${now.batch.trail === undefined ? nothing : html`<app-run-trail .bench=${bench} .state=${now}></app-run-trail>`}
        </div>
        <div class="stack picture">
          ${plan === undefined ? withoutPlan(now) : this.chart(plan, run)}
          ${run === undefined || run.spectra.length === 0 ? nothing : html`<app-verdict-panel .bench=${bench} .state=${now} .run=${run}></app-verdict-panel>`}
          ${run === undefined ? nothing : this.fitPart(run)}
        </div>
      </div>
      <app-control-charts .bench=${bench} .state=${now}></app-control-charts>
    </div>`;
  }

  private chart(plan: SurfacePlan, run: RunRecord | undefined) {
    const { batch } = this.state;
    const { requirements } = coatingOf(batch, plan.side);
    const spectra = run?.spectra ?? [];
    // The signs beside the limits are the plan's; what was measured is judged below the chart.
    const limits = spectrumLimits(requirements, plan).map((limit) => ({
      ...limit,
      ...(limit.name === undefined ? {} : { name: `${limit.name}, as planned` }),
    }));
    const quantities = [...new Set(spectra.map((spectrum) => spectrum.quantity))];
    const quantity = quantities.find((one) => one === this.shownQuantity) ?? quantities[0] ?? 'R';
    const shown = spectra.filter((spectrum) => spectrum.quantity === quantity);
    const isOld = run !== undefined && (designChanges(batch, run) ?? []).length > 0;
    const surface = this.#surface(run);
    const asRun = run === undefined ? batch : batchAsRun(batch, run);
    const aim = aimInWords(asRun);
    const light = predictCoating(asRun, surface, asPlanned(surface), reachOf(spectra));
    const planned = light.curves.map(
      ({ incidenceDeg, mean }): SpectrumCurve => ({
        name: `planned${isOld ? ` for run ${run.number}` : ''}${aim === undefined ? '' : ' with the aim,'} at ${incidenceDeg}°`,
        wavelengthNm: light.wavelengthNm,
        values: mean[quantity],
        dash: 'dashed',
      }),
    );
    const measured = shown.map(
      ({ name, wavelengthNm, values }): SpectrumCurve => ({ name, wavelengthNm, values, points: true }),
    );
    return html`${quantities.length < 2 ? nothing : this.quantityChoice(quantities, quantity)}<cw-spectrum-chart
      .curves=${[...planned, ...measured, ...this.asBuilt(run, quantity)]}
      .limits=${limits}
      .quantity=${quantity}
      .label=${'Measured, planned and as built'}
      .fileName=${`${batch.id}-measured`}
    ></cw-spectrum-chart>${aim === undefined ? nothing : html`<p class="small soft">Dashed is what the run aims at on the mean lens place: ${aim}, which is why it is not the curve that Stack shows. Measured and fitted films are held against it.</p>`}`;
  }

  /** Spectra of one quantity share a scale; those of another have a chart of their own. */
  private quantityChoice(quantities: readonly MeasuredSpectrum['quantity'][], shown: string) {
    const onPick = (event: Event) => {
      this.shownQuantity = (event.target as HTMLSelectElement).value as MeasuredSpectrum['quantity'];
    };
    return html`<div class="field"><label for="shown">Spectra on the chart</label><select id="shown" @change=${onPick}>${quantities.map((one) => html`<option value=${one} ?selected=${one === shown}>of ${QUANTITY_WORDS[one]}</option>`)}</select></div>`;
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

  /** The as-built curve of a fit that is up to date, where it is of the quantity shown. */
  private asBuilt(run: RunRecord | undefined, shown: MeasuredSpectrum['quantity']): SpectrumCurve[] {
    const spectrum = this.#fitted(run);
    const { answer, state: now } = fitDeskOf(this.bench).fit;
    if (spectrum?.quantity !== shown || answer === undefined || now.kind !== 'answered') return [];
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

  private log(open: RunRecord | undefined) {
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
      ${found.length === 0 ? html`<p class="empty">No logged run holds all of these words.</p>` : found.toReversed().map((record) => html`<app-run-entry .bench=${this.bench} .state=${this.state} .run=${record} .open=${record.id === open?.id} @app-run-opened=${this.onOpened}></app-run-entry>`)}
    </div>`;
  }

  private readonly onOpened = ({ runId }: RunOpenedEvent): void => {
    this.openRun = runId;
  };

  private addRun(): string {
    const { batch, outcome } = this.state;
    const { runs } = batch;
    const planned = outcome.plan === undefined ? undefined : plannedRun(batch, outcome.plan, 'front');
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
          ...(planned === undefined ? {} : { planned }),
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
