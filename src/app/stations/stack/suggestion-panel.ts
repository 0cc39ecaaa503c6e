import { css, html, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { fixed, listed, significant } from '../../../base/format.ts';
import { TaskClient } from '../../../compute/task-client.ts';
import '../../../elements/quantity-field/cw-quantity-field.ts';
import type { QuantityInputEvent } from '../../../elements/quantity-field/quantity-events.ts';
import '../../../elements/verdict/cw-verdict.ts';
import { startWorker } from '../../compute-workers.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { labelOf } from '../material-words.ts';
import { shownSide, shownSurface, shownSurfacePlan } from '../sides-shown.ts';
import { type DesignAnswer, type DesignWish, designRequest } from './design-request.ts';
import { setLayers } from './layer-edits.ts';
import { type Candidate, candidate, closedFormStacks } from './stack-candidates.ts';

/** Films that most shops have, offered as materials at hand beside those that the batch already uses. */
const COMMON = ['mgf2', 'sio2', 'al2o3', 'y2o3', 'zro2', 'hfo2', 'ta2o5', 'tio2'];

/** Suggests stacks from the materials at hand, to be compared and taken. */
@customElement('app-suggestion-panel')
export class SuggestionPanel extends StationElement {
  static override styles = [
    stationStyles,
    css`
      .pool {
        display: flex;
        flex-wrap: wrap;
        gap: 0 var(--cw-space-4);
        margin: 0;
        padding: 0;
        border: 0;
      }
      legend {
        padding: 0;
        color: var(--cw-ink-soft);
        font-size: var(--cw-size-small);
      }
    `,
  ];

  @state() private pool: ReadonlySet<string> | undefined;
  @state() private candidates: readonly Candidate[] | undefined;
  @state() private maxLayers = 6;
  @state() private timeLimitS = 10;
  /** How far a search is; undefined while none runs. */
  @state() private progress: number | undefined;
  @state() private sentence = '';
  #client: TaskClient | undefined;
  #asked: AbortController | undefined;

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#asked?.abort();
    this.#client?.close();
    this.#client = undefined;
  }

  override render() {
    const { batch } = this.state;
    const side = shownSide(this.state);
    const offered = this.offered();
    const pool = this.pool ?? new Set(offered);
    const isBare = shownSurface(this.state).requirements.length === 0;
    return html`<details class="group">
      <summary><h2>Suggest a stack</h2></summary>
      <div class="stack">
        <fieldset class="pool">
          <legend>Materials at hand</legend>
          ${offered.map((id) => html`<label class="flag"><input type="checkbox" .checked=${pool.has(id)} @change=${() => this.toggle(id)} />${labelOf(id, batch)}</label>`)}
        </fieldset>
        <div class="fields">
          <cw-quantity-field label="At most so many layers" .value=${this.maxLayers} .min=${1} .max=${40} whole @cw-quantity-input=${({ value }: QuantityInputEvent) => (this.maxLayers = value ?? this.maxLayers)}></cw-quantity-field>
          <cw-quantity-field label="Search for" unit="s" .value=${this.timeLimitS} .min=${1} .max=${600} @cw-quantity-input=${({ value }: QuantityInputEvent) => (this.timeLimitS = value ?? this.timeLimitS)}></cw-quantity-field>
        </div>
        <div class="row">
          <button class="main" ?disabled=${pool.size === 0} @click=${() => this.suggest()}>Suggest from closed forms</button>
          <button ?disabled=${pool.size === 0 || isBare} @click=${() => this.search('synthesize')}>Search for the best</button>
          <button ?disabled=${isBare || shownSurface(this.state).layers.length === 0} @click=${() => this.search('refine')}>Refine the thicknesses</button>
        </div>
        <p class="small soft">For the ${side}. Compare, then take one; refining leaves held layers alone.${isBare ? ' To search or refine, the side needs a requirement first.' : ''}</p>
        ${
          this.progress === undefined
            ? nothing
            : html`<div class="row"><progress aria-label="The search" max="1" .value=${this.progress}></progress><button @click=${() => this.#asked?.abort()}>Stop</button></div>`
        }
        <div role="status">${this.sentence === '' ? nothing : html`<p class="small">${this.sentence}</p>`}${this.candidates === undefined ? nothing : this.list(this.candidates)}</div>
      </div>
    </details>`;
  }

  private offered(): string[] {
    const { surfaces, process } = this.state.batch;
    const back = typeof surfaces.back === 'object' ? surfaces.back.layers : [];
    const used = [...surfaces.front.layers, ...back].map(({ material }) => material);
    return [...new Set([...used, ...Object.keys(process.materials), ...COMMON])];
  }

  private toggle(id: string): void {
    const pool = new Set(this.pool ?? this.offered());
    if (!pool.delete(id)) pool.add(id);
    this.pool = pool;
  }

  private suggest(): void {
    const surface = shownSurfacePlan(this.state);
    if (surface === undefined) return;
    this.sentence = '';
    this.candidates = closedFormStacks(
      this.state.batch,
      shownSide(this.state),
      this.atHand(),
      surface.referenceWavelengthNm,
    );
  }

  private atHand(): string[] {
    return this.offered().filter((id) => (this.pool ?? new Set([id])).has(id));
  }

  /** Asks a worker; the screen stays at work meanwhile. A newer question or "Stop" ends the older. */
  private async search(search: DesignWish['search']): Promise<void> {
    const { batch } = this.state;
    const side = shownSide(this.state);
    const wish = { search, pool: this.atHand(), maxLayers: this.maxLayers, timeLimitS: this.timeLimitS };
    const asked = new AbortController();
    this.#asked?.abort();
    this.#asked = asked;
    this.#client ??= new TaskClient(startWorker);
    this.progress = 0;
    this.sentence = search === 'refine' ? 'Refining …' : 'Searching …';
    try {
      const answer = await this.#client.ask<DesignAnswer>('design', designRequest(batch, side, wish), {
        signal: asked.signal,
        progress: (fraction) => {
          if (this.#asked === asked) this.progress = fraction;
        },
        hungAfterMs: 1000 * (3 * wish.timeLimitS + 60),
      });
      const found = [answer, ...answer.alternatives].map(({ layers }, place) =>
        candidate(batch, side, search === 'refine' ? 'Refined' : `Found, no. ${place + 1}`, layers),
      );
      this.candidates = found;
      this.sentence = answer.warnings.join(' ');
    } catch (error) {
      this.sentence = asked.signal.aborted
        ? 'Stopped.'
        : `No answer: ${error instanceof Error ? error.message : String(error)}.`;
    } finally {
      if (this.#asked === asked) this.progress = undefined;
    }
  }

  private list(candidates: readonly Candidate[]) {
    const { batch } = this.state;
    if (candidates.length === 0)
      return html`<p class="empty">No closed form fits this glass with these materials: allow more of them.</p>`;
    return html`<div class="scroll"><table>
      <caption>Best first; nothing is changed until one is taken.</caption>
      <thead><tr><th>Stack</th><th>Layers, from the glass</th><th>Against the requirements</th><th></th></tr></thead>
      <tbody>
        ${candidates.map((candidate) => {
          const { name, layers, plan } = candidate;
          const words = layers.map(
            ({ material, thicknessNm }) => `${labelOf(material, batch)} ${fixed(thicknessNm, 1)}`,
          );
          return html`<tr>
            <td>${name}</td>
            <td>${words.join(' · ')} nm</td>
            <td>${plan.requirements.map(({ met, valuePercent, text }) => html`<cw-verdict title=${text} .verdict=${met ? 'met' : 'missed'}>${significant(valuePercent, 3)} %</cw-verdict> `)}</td>
            <td><button aria-label="Take ${name}: ${listed(words)} nm" @click=${() => this.take(candidate)}>Take</button></td>
          </tr>`;
        })}
      </tbody>
    </table></div>`;
  }

  private take({ name, layers }: Candidate): void {
    const side = shownSide(this.state);
    this.bench.edit(setLayers(side, layers, `Stack of the ${side}: ${name.toLowerCase()}`));
  }
}
