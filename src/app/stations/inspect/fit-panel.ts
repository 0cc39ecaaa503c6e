import { css, html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { fixed, percent, significant } from '../../../base/format.ts';
import type { MeasuredSpectrum, RunRecord, Surface, ToolingCorrection } from '../../../batch/document.ts';
import '../../../elements/line-chart/cw-line-chart.ts';
import { WAVELENGTH_AXIS } from '../../../elements/spectrum-chart/spectrum-chart-data.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import type { TaskState } from '../../task-run.ts';
import { labelOf } from '../material-words.ts';
import { carryInto, correctionsFor, isTelling, materialsOf } from './carry-corrections.ts';
import { type FitAnswer, type FitDesk, fitDeskOf } from './fit-desk.ts';
import './next-run.ts';

/** Stories below this probability are not listed. */
const LEAST_PROBABILITY = 0.005;
const MOST_STORIES = 4;
/** Correlations from here are named. */
const STRONG = 0.9;

/** Why the coating came out as it did: residuals, the likeliest stories, factors with their doubt, and the correction. */
@customElement('app-fit-panel')
export class FitPanel extends StationElement {
  static override styles = [
    stationStyles,
    css`
      td.number,
      th.number {
        text-align: right;
        font-variant-numeric: tabular-nums;
      }
      .wide {
        overflow-x: auto;
      }
    `,
  ];

  @property({ attribute: false }) run!: RunRecord;
  @property({ attribute: false }) surface!: Surface;
  @property({ attribute: false }) spectrum!: MeasuredSpectrum;
  /** How the fit stands; set so that the panel is drawn anew when it changes. */
  @property({ attribute: false }) told!: TaskState;
  /** Materials that the reader ticked or unticked against what the fit suggests. */
  @state() private chosen: ReadonlyMap<string, boolean> = new Map();

  private get desk(): FitDesk {
    return fitDeskOf(this.bench);
  }

  override render() {
    const { fit, wishes } = this.desk;
    const { answer, state: now } = fit;
    const isRunning = now.kind === 'running';
    return html`<section class="stack" aria-label="As-built fit">
      <h2>Why it came out so</h2>
      <div class="fields">
        <div class="field"><label for="free">One thickness factor</label>
          <select id="free" .value=${wishes.free} @change=${this.onFree}>
            <option value="materials">for each material</option>
            <option value="layers">for each layer</option>
          </select>
        </div>
        <label class="flag"><input type="checkbox" .checked=${wishes.indexScale} @change=${this.onIndex} /><span>Also one index factor for each material</span></label>
      </div>
      <div role="status" class="stack">
        ${isRunning ? html`<p class="soft">Fitting the planned stack to ${this.spectrum.name} …</p>` : nothing}
        ${now.kind === 'fault' ? html`<p class="said">${now.sentence}</p>` : nothing}
        ${answer === undefined || isRunning ? nothing : this.words(answer)}
      </div>
      ${answer === undefined || isRunning ? nothing : html`${this.residuals(answer)}${this.factors(answer)}${this.correction(answer)}`}
    </section>`;
  }

  private words({ verdict, explanations, warnings, identifiable, residualRmsPercent }: FitAnswer) {
    const stories = explanations
      .filter(({ probability }) => probability >= LEAST_PROBABILITY)
      .slice(0, MOST_STORIES);
    return html`<p><b>${this.named(verdict)}</b></p>
      <details><summary>All stories that were weighed against one another</summary>
        <ul class="plain small">${stories.map(
          ({ sentence, probability, residualRmsPercent: left }) =>
            html`<li>${percent(probability, 1)}: ${this.named(sentence)}; left over ${fixed(left, 3)} % rms</li>`,
        )}</ul>
        <p class="small soft">Shares by the Bayesian information criterion, among these stories only: another cause that nobody named is not in the sum.</p>
      </details>
      <p class="small">The factors below leave ${fixed(residualRmsPercent, 3)} % rms over.</p>
      ${identifiable ? nothing : html`<p class="said">The data cannot tell: the factors below are not settled by this measurement. Measure a wider band, another angle, or free fewer factors.</p>`}
      ${warnings.map((warning) => html`<p class="small">${this.named(warning)}</p>`)}`;
  }

  private residuals({ residual }: FitAnswer) {
    const { wavelengthNm, quantity } = this.spectrum;
    return html`<cw-line-chart
      .series=${[{ name: 'measured less as-built', x: wavelengthNm, y: Array.from(residual, (value) => 100 * value), colour: 'curve-2' }]}
      .xAxis=${WAVELENGTH_AXIS}
      .yAxis=${{ title: `Residual of ${quantity}`, unit: '%' }}
      .label=${'Residuals of the as-built fit'}
      .fileName=${`${this.state.batch.id}-residuals`}
    ></cw-line-chart>`;
  }

  private factors(answer: FitAnswer) {
    const { free } = this.desk.wishes;
    const ids = materialsOf(this.surface);
    const { layers } = this.surface;
    const strong = strongPairs(answer);
    return html`<div class="wide" role="region" aria-label="Fitted factors" tabindex="0"><table>
      <thead><tr><th>${free === 'materials' ? 'Material' : 'Layer'}</th><th class="number">Thickness factor</th><th class="number">± one σ</th><th class="number">Off by</th>${this.desk.wishes.indexScale ? html`<th class="number">Index factor</th>` : nothing}</tr></thead>
      <tbody>${answer.factors.map(
        (factor, place) => html`<tr>
          <th>${free === 'materials' ? this.label(ids[place] ?? '') : `${place + 1}, ${this.label(layers[place]?.material ?? '')}`}</th>
          <td class="number">${fixed(factor.thicknessFactor, 4)}</td><td class="number">${significant(factor.sigma, 2)}</td>
          <td class="number">${signedPercent(factor.thicknessFactor - 1)}${isTelling(factor) ? nothing : html` <span class="soft">within the doubt</span>`}</td>
          ${factor.indexFactor === undefined ? nothing : html`<td class="number">${fixed(factor.indexFactor, 4)} ± ${significant(factor.indexSigma ?? 0, 2)}</td>`}
        </tr>`,
      )}</tbody></table></div>
      <p class="small soft">${strong.length === 0 ? 'No two factors hang together by more than 0.9.' : `Factors that hang together: ${strong.map((pair) => this.named(pair)).join('; ')}.`} σ follows from the residuals and holds if the indices of the materials are right.</p>`;
  }

  private correction(answer: FitAnswer) {
    if (this.desk.wishes.free === 'layers')
      return html`<p class="small">Tooling belongs to a material: take one factor for each material to carry corrections.</p>`;
    const { run } = this;
    const kept = run.corrections ?? [];
    const carried = kept.filter(({ noted }) => noted !== true);
    if (carried.length > 0)
      return html`<div class="group"><h3>Carried into the next run</h3>
        <ul class="plain">${kept.map((correction) => html`<li>${this.change(correction)}${correction.noted ? html` <span class="soft">noted only</span>` : nothing}</li>`)}</ul>
        <p class="small">These corrections of run ${run.number} stand in the batch. Carrying them twice would correct twice; undo takes them back.</p></div>
        ${this.nextRun(answer, [])}`;
    const all = correctionsFor(this.state.batch, run, answer.factors);
    const factors = new Map(materialsOf(this.surface).map((id, place) => [id, answer.factors[place]]));
    const isTaken = ({ material }: ToolingCorrection) => {
      const factor = factors.get(material);
      return this.chosen.get(material) ?? (answer.identifiable && factor !== undefined && isTelling(factor));
    };
    const taken = all.filter(isTaken);
    return html`<div class="group"><h3>Correction of the tooling</h3>
      <p class="small">The sensor that ends a layer is told a new ratio of thickness on the sensor to thickness on the lens: the old one divided by the thickness factor. It counts for every later run of this batch, on both sides; the stack itself is left as it is. Which sensor it is, the monitor's rules say.${run.planned === undefined ? ` Run ${run.number} is taken to have been made by the tooling that the batch holds now.` : ''}</p>
      ${all.map(
        (correction) =>
          html`<label class="flag"><input type="checkbox" .checked=${isTaken(correction)} @change=${(event: Event) => this.choose(correction.material, event)} /><span>${this.change(correction)}</span></label>`,
      )}
      <div class="row"><button class="main" ?disabled=${taken.length === 0} @click=${() => this.carry(taken, all)}>Carry these corrections into the next run</button>
        <button ?disabled=${!answer.identifiable} @click=${() => this.carry([], all)}>${kept.length === 0 ? 'Only note them for the control chart' : 'Note them anew for the control chart'}</button></div>
      ${kept.length === 0 ? nothing : html`<p class="small">Noted for the control chart, and no run takes it: ${kept.map((correction) => this.change(correction)).join('; ')}.</p>`}
      ${taken.length > 0 ? nothing : html`<p class="small">${answer.identifiable ? 'No factor differs from 1 by more than twice its doubt: there is nothing to correct. Noted all the same, it is a point of the control chart.' : 'Nothing is ticked, since the measurement does not settle the factors; tick what you know from elsewhere.'}</p>`}
    </div>${this.nextRun(answer, taken)}`;
  }

  private nextRun({ factors }: FitAnswer, taken: readonly ToolingCorrection[]) {
    return html`<app-next-run .bench=${this.bench} .state=${this.state} .run=${this.run} .spectrum=${this.spectrum} .factors=${factors} .taken=${taken}></app-next-run>`;
  }

  private change({ material, sensor, before, after, sigma }: ToolingCorrection): string {
    return `${this.label(material)}, ${sensor} tooling ${fixed(before, 4)} → ${fixed(after, 4)} (± ${significant(sigma, 2)})`;
  }

  /** Carries what is taken and keeps all that the fit found, so that the control chart misses no run. */
  private carry(taken: readonly ToolingCorrection[], all: readonly ToolingCorrection[]): void {
    const { batch } = this.state;
    const told = (corrections: readonly ToolingCorrection[]) =>
      corrections
        .map(({ material, sensor, after }) => `${this.label(material)} ${sensor} tooling ${fixed(after, 4)}`)
        .join(', ');
    this.bench.edit({
      name:
        taken.length > 0
          ? `Corrections of run ${this.run.number} carried: ${told(taken)}`
          : `Tooling of run ${this.run.number} noted: ${told(all)}`,
      recipe: (draft) =>
        carryInto(
          draft,
          batch,
          this.run.id,
          taken,
          all.filter((correction) => !taken.includes(correction)),
        ),
    });
  }

  private choose(material: string, event: Event): void {
    this.chosen = new Map(this.chosen).set(material, (event.target as HTMLInputElement).checked);
  }

  private label(id: string): string {
    return labelOf(id, this.state.batch);
  }

  /** The fit names materials by their ids, or by number where they are the batch's own. */
  private named(sentence: string): string {
    return materialsOf(this.surface).reduce(
      (text, id, place) =>
        text
          .split(' ')
          .map((word) => word.replace(bare(word), ownName(bare(word), id, this.label(id))))
          .join(' ')
          .replaceAll(new RegExp(`material ${place + 1}\\b`, 'g'), this.label(id)),
      sentence,
    );
  }

  private readonly onFree = (event: Event): void => {
    const free = (event.target as HTMLSelectElement).value as 'materials' | 'layers';
    this.desk.wishes = { ...this.desk.wishes, free };
    this.desk.changed();
  };

  private readonly onIndex = (event: Event): void => {
    this.desk.wishes = { ...this.desk.wishes, indexScale: (event.target as HTMLInputElement).checked };
    this.desk.changed();
  };
}

/** A word without the marks around it. */
function bare(word: string): string {
  return word.replaceAll(/^[(]+|[).,;:]+$/g, '');
}

function ownName(word: string, id: string, label: string): string {
  return word === id ? label : word;
}

function strongPairs({ fitted, correlation }: FitAnswer): string[] {
  return fitted.flatMap((name, row) =>
    fitted
      .slice(0, row)
      .flatMap((other, column) =>
        Math.abs(correlation[row]?.[column] ?? 0) > STRONG
          ? [`${other} and ${name} (${fixed(correlation[row]![column]!, 2)})`]
          : [],
      ),
  );
}

function signedPercent(fraction: number): string {
  return `${fraction < 0 ? '−' : '+'}${fixed(Math.abs(100 * fraction), 2)} %`;
}
