import { css, html, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { fixed, significant } from '../../../base/format.ts';
import type { Batch, Layer, Side } from '../../../batch/document.ts';
import { aimedLayers, aimFactor } from '../../../batch/plan/aim.ts';
import { computePlan } from '../../../batch/plan/plan.ts';
import type { RunPlan, SurfacePlan } from '../../../batch/plan/plan-types.ts';
import '../../../elements/quantity-field/cw-quantity-field.ts';
import type { QuantityInputEvent } from '../../../elements/quantity-field/quantity-events.ts';
import '../../../elements/verdict/cw-verdict.ts';
import { pageRules } from '../../../batch/traveller/printed-page.ts';
import { PanelRun } from '../../panel-run.ts';
import { PaperFrame } from '../../paper-frame.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { labelOf } from '../material-words.ts';
import { SIDE_NAMES, shownSide } from '../sides-shown.ts';
import type { PlainLayer } from '../task-layers.ts';
import { rescueRequest } from './monitor-requests.ts';
import { rescueSheet } from './rescue-sheet.ts';
import { coatedAs, putRescued, type RescuedLayer } from './rescued-batch.ts';

interface RescueAnswer {
  readonly layers: readonly PlainLayer[];
  readonly changeNm: readonly number[];
  /** For each layer the planned one that it was, or -1. */
  readonly planned: readonly number[];
  readonly verdict: 'go-on' | 'strip';
  readonly reason: string;
}

interface Rescue {
  readonly answer: RescueAnswer;
  /** The side whose run is rescued. */
  readonly side: Side;
  readonly finished: number;
  readonly surface: SurfacePlan;
  readonly run: RunPlan;
  readonly layers: readonly RescuedLayer[];
  readonly batch: Batch;
  /** The batch that was asked about. */
  readonly about: Batch;
}

/** After a wrong cut: what was really deposited, the remaining layers re-optimised, the new cut table and its page to print. */
@customElement('app-rescue-panel')
export class RescuePanel extends StationElement {
  static override styles = [
    stationStyles,
    css`
      iframe {
        width: 100%;
        height: 34rem;
        border: var(--cw-hairline) solid var(--cw-rule-strong);
        background: var(--cw-sheet);
      }
      .verdict {
        font-size: var(--cw-size-large);
      }
    `,
  ];

  /** What the last rehearsal of the shown side really grew, nm. */
  @property({ attribute: false }) rehearsedNm: readonly number[] | undefined;
  /** Which of two sides with one coating is being coated. */
  @state() private ofTwo: Side = 'front';
  @state() private last = 0;
  @state() private typedNm: ReadonlyMap<string, number> = new Map();
  @state() private topUp = false;
  @state() private restructure = false;
  @state() private rescue: Rescue | undefined;
  @query('iframe') private readonly sheet!: HTMLIFrameElement | null;
  readonly #search = new PanelRun<RescueAnswer>(this, 'rescue');
  readonly #paper = new PaperFrame(this, () => pageRules(this.state.batch, 'Rescue'));

  override render() {
    const { running, fault } = this.#search;
    const { batch } = this.state;
    const { layers, requirements } = coatedAs(batch, this.side());
    const last = Math.min(this.last, layers.length - 1);
    const deposited = this.aimed(layers).slice(0, last + 1);
    const onLast = (event: Event) => {
      this.last = Number((event.target as HTMLSelectElement).value);
    };
    const flag = (set: (isOn: boolean) => void) => (event: Event) =>
      set((event.target as HTMLInputElement).checked);
    return html`<section class="group" aria-labelledby="rescue-title">
      <h2 id="rescue-title">Rescue</h2>
      <p class="small soft">A layer was cut wrong: say what was really deposited, and the layers still to come are optimised again.</p>
      <div class="fields">
        ${batch.surfaces.back === 'same' ? this.sideChoice() : nothing}
        <div class="field"><label for="last">Last finished layer</label>
          <select id="last" @change=${onLast}>${layers.map(({ material }, index) => html`<option value=${index} ?selected=${index === last}>${index + 1} ${labelOf(material, batch)}</option>`)}</select></div>
        ${deposited.map(
          ({ id, material, thicknessNm }, index) =>
            html`<cw-quantity-field label="Layer ${index + 1}, ${labelOf(material, batch)}, really" unit="nm" .value=${this.typedNm.get(id) ?? thicknessNm} .min=${0} .max=${20_000}
              @cw-quantity-input=${({ value }: QuantityInputEvent) => {
                if (value !== undefined) this.typedNm = new Map(this.typedNm).set(id, value);
              }}></cw-quantity-field>`,
        )}
      </div>
      <div class="row">
        <label class="flag"><input type="checkbox" .checked=${this.topUp} @change=${flag((isOn) => {
          this.topUp = isOn;
        })} />the last layer may still grow</label>
        <label class="flag"><input type="checkbox" .checked=${this.restructure} @change=${flag((isOn) => {
          this.restructure = isOn;
        })} />layers may be left out or put in</label>
        ${this.rehearsedNm === undefined ? nothing : html`<button @click=${() => this.takeRehearsed()}>Take the thicknesses of the rehearsal</button>`}
      </div>
      <div class="row">
        <button class="main" ?disabled=${running !== undefined || requirements.length === 0} @click=${() => this.ask(deposited)}>Re-optimise the rest</button>
        ${requirements.length === 0 ? html`<span class="small">There is no requirement to aim at; write one at the order first.</span>` : nothing}
        ${running === undefined ? nothing : html`<button @click=${() => this.#search.cancel()}>Cancel</button><span role="status">${running.doing} …</span>`}
      </div>
      ${fault === '' ? nothing : html`<p class="said" role="alert">${fault}</p>`}
      <div role="status">${this.rescue === undefined ? nothing : this.answer(this.rescue)}</div>
    </section>`;
  }

  /** The side whose run is rescued: the one that is shown, or the one chosen where one coating serves both. */
  private side(): Side {
    return this.state.batch.surfaces.back === 'same' ? this.ofTwo : shownSide(this.state);
  }

  private sideChoice() {
    const onSide = (event: Event) => {
      this.ofTwo = (event.target as HTMLSelectElement).value as Side;
      this.typedNm = new Map();
    };
    return html`<div class="field"><label for="rescued-side">Side being coated</label>
      <select id="rescued-side" @change=${onSide}>${(['front', 'back'] as const).map((side) => html`<option value=${side} ?selected=${side === this.ofTwo}>${SIDE_NAMES[side]}</option>`)}</select></div>`;
  }

  /** Layers as thick as the run aims at. */
  private aimed(layers: readonly Layer[]): Layer[] {
    return aimedLayers(this.state.batch, layers);
  }

  private takeRehearsed(): void {
    const { layers } = coatedAs(this.state.batch, this.side());
    this.typedNm = new Map(
      this.aimed(layers).map(({ id, thicknessNm }, index) => [
        id,
        Math.round(100 * (this.rehearsedNm?.[index] ?? thicknessNm)) / 100,
      ]),
    );
  }

  private async ask(done: readonly Layer[]): Promise<void> {
    const about = this.state.batch;
    const side = this.side();
    const surface = coatedAs(about, side);
    const deposited = done.map(({ id, thicknessNm }) => this.typedNm.get(id) ?? thicknessNm);
    const { topUp, restructure } = this;
    const request = rescueRequest(about, surface, deposited, { topUp, restructure });
    const answer = await this.#search.ask(request);
    if (answer === undefined) return;
    const layers = answer.layers.map((layer, index) => ({ ...layer, planned: answer.planned[index]! }));
    const batch = structuredClone(about) as Batch;
    putRescued(batch, side, layers);
    const plan = computePlan(batch);
    this.rescue = {
      ...{ answer, side, layers, batch, about, finished: done.length },
      surface: plan.surfaces.find((one) => one.side === side)!,
      run: plan.runs.find((one) => one.side === side)!,
    };
  }

  private answer({ answer, side, finished, surface, run, batch, layers, about }: Rescue) {
    if (side !== this.side()) return nothing;
    const goesOn = answer.verdict === 'go-on';
    const isOld = about !== this.state.batch;
    const planned = aimedLayers(about, coatedAs(about, side).layers);
    const plannedNm = (index: number) => {
      const one = planned[layers[index]!.planned];
      return one === undefined ? 'new' : `${fixed(one.thicknessNm, 2)} nm`;
    };
    const changeNm = answer.changeNm.map((nm) => nm * aimFactor(batch));
    return html`<div class="stack">
      <p class="verdict"><cw-verdict .verdict=${goesOn ? 'met' : 'missed'}>${goesOn ? 'go on' : 'strip'}</cw-verdict> ${answer.reason}</p>
      ${isOld ? html`<p><b>Out of date: the batch has changed since.</b></p>` : nothing}
      <div class="scroll" tabindex="0" role="group" aria-label="Rescued layers"><table>
        <thead><tr><th>Layer</th><th class="figure">Planned</th><th class="figure">New</th><th class="figure">Change</th><th class="figure">Cut at</th><th class="figure">Crystal</th></tr></thead>
        <tbody>${run.cuts.map(
          (cut, index) =>
            html`<tr><td>${index + 1} ${cut.label}${index < finished ? ', done' : ''}</td><td class="figure">${plannedNm(index)}</td><td class="figure">${fixed(cut.thicknessNm, 2)} nm</td><td class="figure">${fixed(changeNm[index]!, 2)} nm</td><td class="figure">${index < finished ? '–' : `${fixed(100 * cut.endLevel, 2)} %`}</td><td class="figure">${fixed(cut.crystalThicknessNm, 1)} nm</td></tr>`,
        )}</tbody>
      </table></div>
      <ul class="plain">${surface.requirements.map(({ text, valuePercent, met }) => html`<li>${met ? 'Met' : 'Missed'}: ${text}: ${significant(valuePercent, 3)} %</li>`)}</ul>
      <div class="row">
        <button ?disabled=${isOld} @click=${() => this.take(side, layers, finished)}>Take these layers into the batch</button>
        ${about.surfaces.back === 'same' ? html`<span class="small soft">on the ${side} alone; the other side keeps its plan</span>` : nothing}
        <button class="main" @click=${() => this.sheet?.contentWindow?.print()}>Print the rescue page</button>
      </div>
      <iframe title="Rescue page" @load=${this.#paper.dress} .srcdoc=${rescueSheet({ batch, surface, run, finished, changeNm, reason: answer.reason })}></iframe>
    </div>`;
  }

  private take(side: Side, layers: readonly RescuedLayer[], finished: number): void {
    this.bench.edit({
      name: `Rescue of the ${side} after layer ${finished}`,
      recipe: (draft) => putRescued(draft, side, layers),
    });
    this.bench.showSide(side);
  }
}
