import { css, html, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { counted, fixed, percent } from '../../../base/format.ts';
import '../../../elements/quantity-field/cw-quantity-field.ts';
import type { QuantityInputEvent } from '../../../elements/quantity-field/quantity-events.ts';
import '../../../elements/spectrum-chart/cw-spectrum-chart.ts';
import { PanelRun } from '../../panel-run.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { labelOf } from '../material-words.ts';
import { shownSide, shownSurface, shownSurfacePlan } from '../sides-shown.ts';
import { spectrumLimits } from '../stack/spectrum-view.ts';
import { rehearseRequest, STRATEGIES } from './monitor-requests.ts';
import { bandCurves, crystalSentence, type RunsAnswer, strategyRows, warningWords } from './runs-answer.ts';

/** Many virtual runs with the batch's own noise: how thick the layers come out, what that does to the spectrum, and the yield. */
@customElement('app-virtual-runs')
export class VirtualRuns extends StationElement {
  static override styles = [
    stationStyles,
    css`
      progress {
        width: min(20rem, 100%);
        accent-color: var(--cw-ink);
      }
      .matrix {
        width: auto;
      }
    `,
  ];

  readonly #rehearsal = new PanelRun<RunsAnswer>(this, 'rehearse');
  @state() private runs = 1000;
  @state() private seed = 1;
  @state() private compares = true;
  @state() private found: { readonly answer: RunsAnswer; readonly about: string } | undefined;

  override render() {
    const { running, fault } = this.#rehearsal;
    const number = (set: (value: number) => void) => (event: QuantityInputEvent) => {
      if (event.value !== undefined) set(event.value);
    };
    return html`<section class="group" aria-labelledby="runs-title">
      <h2 id="runs-title">Virtual runs</h2>
      <p class="small soft">A controller that sees only its own noisy instruments cuts every layer; later layers grow on what the earlier ones really are.</p>
      <div class="fields">
        <cw-quantity-field label="Virtual runs" .value=${this.runs} .min=${2} .max=${100_000} whole @cw-quantity-input=${number(
          (value) => {
            this.runs = value;
          },
        )}></cw-quantity-field>
        <cw-quantity-field label="Seed" .value=${this.seed} .min=${0} .max=${4_294_967_295} .digits=${10} whole @cw-quantity-input=${number(
          (value) => {
            this.seed = value;
          },
        )}></cw-quantity-field>
        <label class="flag"><input type="checkbox" .checked=${this.compares} @change=${(event: Event) => {
          this.compares = (event.target as HTMLInputElement).checked;
        }} />compare strategies</label>
      </div>
      <div class="row">
        ${
          running === undefined
            ? html`<button class="main" @click=${() => this.start()}>Run ${counted(this.runs, 'virtual run')}</button>`
            : html`<button @click=${() => this.#rehearsal.cancel()}>Cancel</button>
              <progress max="1" .value=${running.fraction} aria-label="Progress of the virtual runs"></progress>
              <span role="status">${running.doing}</span>`
        }
      </div>
      ${fault === '' ? nothing : html`<p class="said" role="alert">${fault}</p>`}
      ${this.found === undefined ? nothing : this.answer(this.found.answer, this.found.about !== this.about())}
    </section>`;
  }

  private about(): string {
    const { monitor, process } = this.state.batch;
    return JSON.stringify([shownSide(this.state), shownSurface(this.state), monitor, process]);
  }

  private async start(): Promise<void> {
    const { runs, seed } = this;
    const about = this.about();
    const strategies = this.compares ? STRATEGIES : [];
    const surface = shownSurface(this.state);
    const request = rehearseRequest(this.state.batch, surface, { runs, seed, strategies });
    const answer = await this.#rehearsal.ask(request);
    if (answer !== undefined) this.found = { answer, about };
  }

  private answer(answer: RunsAnswer, isOld: boolean) {
    const plan = shownSurfacePlan(this.state);
    const surface = shownSurface(this.state);
    const names = surface.layers.map(
      ({ material }, index) => `${index + 1} ${labelOf(material, this.state.batch)}`,
    );
    const nm = (value: number) => `${fixed(value, 2)} nm`;
    return html`<div class="stack">
      <p role="status">${isOld ? html`<b>Out of date: the batch has changed since. </b>` : nothing}${counted(answer.runs, 'run')} as set:
        ${answer.yield === undefined ? 'there is no requirement to meet' : html`yield <b>${percent(answer.yield, 1)}</b> on the mean lens place, at the lens's centre (95 % interval ${percent(answer.yield95![0], 1)} to ${percent(answer.yield95![1], 1)})`};
        a missed cut in ${percent(answer.runsWithMissedCut, 1)} of the runs. The expected yield below takes in every place of the load and the lens out to its edge.</p>
      ${answer.crystals === undefined ? nothing : html`<p>${crystalSentence(answer, names)}</p>`}
      ${isOld ? nothing : answer.warnings.map((warning) => html`<p class="small">${warningWords(warning)}</p>`)}
      <cw-spectrum-chart
        .curves=${bandCurves(answer, isOld ? undefined : plan)}
        .limits=${plan === undefined || isOld ? [] : spectrumLimits(surface.requirements, plan)}
        .label=${'Reflectance of the virtual runs'}
        .fileName=${`${this.state.batch.id}-virtual-runs`}
      ></cw-spectrum-chart>
      <div class="scroll" tabindex="0" role="group" aria-label="Thickness errors"><table>
        <caption>Thickness really grown minus planned, on the lens.</caption>
        <thead><tr><th>Layer</th><th class="figure">Mean</th><th class="figure">Sigma</th><th class="figure">5 %</th><th class="figure">95 %</th><th class="figure">Missed cuts</th>${answer.crystals === undefined ? nothing : html`<th class="figure">Crystal lost</th>`}</tr></thead>
        <tbody>${answer.thicknessErrorNm.map(
          ({ mean, sigma, percentiles }, index) =>
            html`<tr><td>${names[index] ?? index + 1}</td><td class="figure">${nm(mean)}</td><td class="figure">${nm(sigma)}</td><td class="figure">${nm(percentiles['5'])}</td><td class="figure">${nm(percentiles['95'])}</td><td class="figure">${percent(answer.missedCuts[index]!, 1)}</td>${answer.crystals === undefined ? nothing : html`<td class="figure">${percent(answer.crystals.lost[index]!, 1)}</td>`}</tr>`,
        )}</tbody>
      </table></div>
      ${answer.correlation.length < 2 ? nothing : this.matrix(answer.correlation, names)}
      ${answer.strategies === undefined ? nothing : this.strategies(answer)}
    </div>`;
  }

  private matrix(correlation: RunsAnswer['correlation'], names: readonly string[]) {
    const wash = (value: number) =>
      `background: color-mix(in srgb, var(${value < 0 ? '--cw-ramp-low' : '--cw-ramp-high'}) ${Math.round(35 * Math.abs(value))}%, transparent)`;
    return html`<div class="scroll" tabindex="0" role="group" aria-label="Correlations"><table class="matrix">
      <caption>Correlation of the errors: negative where a later layer makes up for an earlier one.</caption>
      <thead><tr><td></td>${correlation.map((_, index) => html`<th class="figure" scope="col">${index + 1}</th>`)}</tr></thead>
      <tbody>${correlation.map((row, index) => html`<tr><th scope="row">${names[index] ?? index + 1}</th>${row.map((value) => html`<td class="figure" .style=${wash(value)}>${fixed(value, 2)}</td>`)}</tr>`)}</tbody>
    </table></div>`;
  }

  private strategies(answer: RunsAnswer) {
    return html`<div class="scroll" tabindex="0" role="group" aria-label="Strategies"><table>
      <caption>Strategies on the same luck: the same seed, so the same rates, spits and noise.</caption>
      <thead><tr><th>Strategy</th><th class="figure">Yield</th><th class="figure">95 % interval</th><th class="figure">Largest sigma</th><th class="figure">Runs with a missed cut</th></tr></thead>
      <tbody>${strategyRows(answer).map(
        (row) =>
          html`<tr><td>${row.isBest ? html`<b>${row.name}</b>, best` : row.name}</td><td class="figure">${row.yield === undefined ? '–' : percent(row.yield, 1)}</td><td class="figure">${row.yield95 === undefined ? '–' : `${percent(row.yield95[0], 1)} to ${percent(row.yield95[1], 1)}`}</td><td class="figure">${nmOf(row.largestSigmaNm)}</td><td class="figure">${percent(row.runsWithMissedCut, 1)}</td></tr>`,
      )}</tbody>
    </table></div>
    ${this.state.batch.monitor.noise.rateBiasPercent === 0 ? html`<p class="small soft">Time is as good as the rate is known. The noise above has the true rate off by 0 %: put in what your own runs show before you trust the clock.</p>` : nothing}`;
  }
}

function nmOf(value: number): string {
  return `${fixed(value, 2)} nm`;
}
