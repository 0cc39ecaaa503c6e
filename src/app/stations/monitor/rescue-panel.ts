import { css, html, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { fixed, significant } from '../../../base/format.ts';
import type { Batch, Layer } from '../../../batch/document.ts';
import { aimedLayers, aimFactor } from '../../../batch/plan/aim.ts';
import { computePlan } from '../../../batch/plan/plan.ts';
import type { RunPlan, SurfacePlan } from '../../../batch/plan/plan-types.ts';
import { TRAVELLER_CSS } from '../../../batch/traveller/traveller-css.ts';
import '../../../elements/quantity-field/cw-quantity-field.ts';
import type { QuantityInputEvent } from '../../../elements/quantity-field/quantity-events.ts';
import '../../../elements/verdict/cw-verdict.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { labelOf } from '../material-words.ts';
import { freeLayerId } from '../order/requirement-edits.ts';
import { shownSide, shownSurface } from '../sides-shown.ts';
import type { PlainLayer } from '../task-layers.ts';
import { rescueRequest } from './monitor-requests.ts';
import { MonitorWorker } from './monitor-worker.ts';
import { rescueSheet } from './rescue-sheet.ts';

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
  readonly finished: number;
  readonly surface: SurfacePlan;
  readonly run: RunPlan;
  readonly layers: readonly Layer[];
  readonly batch: Batch;
  /** The batch that was asked about. */
  readonly about: Batch;
}

/** Gives the sheet its look by script: the page's policy allows no style written into a document. */
function dressSheet(event: Event): void {
  const { contentWindow, contentDocument } = event.target as HTMLIFrameElement;
  if (contentWindow === null || contentDocument === null) return;
  const sheet = new (contentWindow as Window & typeof globalThis).CSSStyleSheet();
  sheet.replaceSync(TRAVELLER_CSS);
  contentDocument.adoptedStyleSheets = [sheet];
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
        background: #fff;
      }
      .verdict {
        font-size: var(--cw-size-large);
      }
    `,
  ];

  /** What the last rehearsal really grew, nm. */
  @property({ attribute: false }) rehearsedNm: readonly number[] | undefined;
  @state() private last = 0;
  @state() private typedNm: ReadonlyMap<string, number> = new Map();
  @state() private topUp = false;
  @state() private restructure = false;
  @state() private rescue: Rescue | undefined;
  @query('iframe') private readonly sheet!: HTMLIFrameElement | null;
  readonly #worker = new MonitorWorker(this);

  override render() {
    const { doing, fault } = this.#worker;
    const { batch } = this.state;
    const { layers, requirements } = shownSurface(this.state);
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
        <button class="main" ?disabled=${doing !== undefined || requirements.length === 0} @click=${() => this.ask(deposited)}>Re-optimise the rest</button>
        ${requirements.length === 0 ? html`<span class="small">There is no requirement to aim at; write one at the order first.</span>` : nothing}
        ${doing === undefined ? nothing : html`<button @click=${() => this.#worker.cancel()}>Cancel</button><span role="status">${doing.what} …</span>`}
      </div>
      ${fault === '' ? nothing : html`<p class="said" role="alert">${fault}</p>`}
      <div role="status">${this.rescue === undefined ? nothing : this.answer(this.rescue)}</div>
    </section>`;
  }

  /** Layers as thick as the run aims at. */
  private aimed(layers: readonly Layer[]): Layer[] {
    return aimedLayers(this.state.batch, layers);
  }

  private takeRehearsed(): void {
    const { layers } = shownSurface(this.state);
    this.typedNm = new Map(
      this.aimed(layers).map(({ id, thicknessNm }, index) => [
        id,
        Math.round(100 * (this.rehearsedNm?.[index] ?? thicknessNm)) / 100,
      ]),
    );
  }

  private async ask(done: readonly Layer[]): Promise<void> {
    const about = this.state.batch;
    const side = shownSide(this.state);
    const surface = shownSurface(this.state);
    const deposited = done.map(({ id, thicknessNm }) => this.typedNm.get(id) ?? thicknessNm);
    const { topUp, restructure } = this;
    const request = rescueRequest(about, surface, deposited, { topUp, restructure });
    const answer = await this.#worker.ask<RescueAnswer>('rescue', request);
    if (answer === undefined) return;
    const back = about.surfaces.back;
    const taken = new Set(
      [...about.surfaces.front.layers, ...(typeof back === 'object' ? back.layers : [])].map(({ id }) => id),
    );
    const layers = answer.layers.map((layer, index): Layer => {
      const from = answer.planned[index]!;
      const id = from < 0 ? freeLayerId(side === 'front' ? 'f' : 'b', 1, taken) : surface.layers[from]!.id;
      return { id, ...layer, thicknessNm: Math.round(100 * layer.thicknessNm) / 100 };
    });
    const own = { ...surface, layers };
    const surfaces = { ...about.surfaces, [side]: own };
    const batch = { ...about, surfaces };
    const plan = computePlan(batch);
    this.rescue = {
      ...{ answer, layers, batch, about, finished: done.length },
      surface: plan.surfaces.find((one) => one.side === side)!,
      run: plan.runs.find((one) => one.side === side)!,
    };
  }

  private answer({ answer, finished, surface, run, batch, layers, about }: Rescue) {
    const goesOn = answer.verdict === 'go-on';
    const isOld = about !== this.state.batch;
    const planned = new Map(
      this.aimed(shownSurface(this.state).layers).map(({ id, thicknessNm }) => [id, thicknessNm]),
    );
    const changeNm = answer.changeNm.map((nm) => nm * aimFactor(batch));
    return html`<div class="stack">
      <p class="verdict"><cw-verdict .verdict=${goesOn ? 'met' : 'missed'}>${goesOn ? 'go on' : 'strip'}</cw-verdict> ${answer.reason}</p>
      ${isOld ? html`<p><b>Out of date: the batch has changed since.</b></p>` : nothing}
      <div class="scroll" tabindex="0" role="group" aria-label="Rescued layers"><table>
        <thead><tr><th>Layer</th><th class="figure">Planned</th><th class="figure">New</th><th class="figure">Change</th><th class="figure">Cut at</th><th class="figure">Crystal</th></tr></thead>
        <tbody>${run.cuts.map(
          (cut, index) =>
            html`<tr><td>${index + 1} ${cut.label}${index < finished ? ', done' : ''}</td><td class="figure">${planned.has(layers[index]!.id) ? `${fixed(planned.get(layers[index]!.id)!, 2)} nm` : 'new'}</td><td class="figure">${fixed(cut.thicknessNm, 2)} nm</td><td class="figure">${fixed(changeNm[index]!, 2)} nm</td><td class="figure">${index < finished ? '–' : `${fixed(100 * cut.endLevel, 2)} %`}</td><td class="figure">${fixed(cut.crystalThicknessNm, 1)} nm</td></tr>`,
        )}</tbody>
      </table></div>
      <ul class="plain">${surface.requirements.map(({ text, valuePercent, met }) => html`<li>${met ? 'Met' : 'Missed'}: ${text}: ${significant(valuePercent, 3)} %</li>`)}</ul>
      <div class="row">
        <button ?disabled=${isOld} @click=${() => this.take(layers, finished)}>Take these layers into the batch</button>
        <button class="main" @click=${() => this.sheet?.contentWindow?.print()}>Print the rescue page</button>
      </div>
      <iframe title="Rescue page" @load=${dressSheet} .srcdoc=${rescueSheet({ batch, surface, run, finished, changeNm, reason: answer.reason })}></iframe>
    </div>`;
  }

  private take(layers: readonly Layer[], finished: number): void {
    const side = shownSide(this.state);
    this.bench.edit({
      name: `Rescue of the ${side} after layer ${finished}`,
      recipe: ({ surfaces }) => {
        const surface = side === 'front' ? surfaces.front : surfaces.back;
        if (typeof surface === 'object') surface.layers = layers.map((layer) => ({ ...layer }));
      },
    });
  }
}
