import { css, html, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { fixed, listed, significant } from '../../../base/format.ts';
import '../../../elements/verdict/cw-verdict.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { labelOf } from '../material-words.ts';
import { shownSide, shownSurfacePlan } from '../sides-shown.ts';
import { type Candidate, closedFormStacks } from './closed-form-stacks.ts';
import { setLayers } from './layer-edits.ts';

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

  override render() {
    const { batch } = this.state;
    const side = shownSide(this.state);
    const offered = this.offered();
    const pool = this.pool ?? new Set(offered);
    return html`<details class="group">
      <summary><h2>Suggest a stack</h2></summary>
      <div class="stack">
        <fieldset class="pool">
          <legend>Materials at hand</legend>
          ${offered.map((id) => html`<label class="flag"><input type="checkbox" .checked=${pool.has(id)} @change=${() => this.toggle(id)} />${labelOf(id, batch)}</label>`)}
        </fieldset>
        <div class="row">
          <button class="main" ?disabled=${pool.size === 0} @click=${() => this.suggest()}>Suggest from closed forms</button>
          <span class="small soft">for the ${side}, from quarter waves and exact zeros; compare, then take one</span>
        </div>
        <div role="status">${this.candidates === undefined ? nothing : this.list(this.candidates)}</div>
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
    const pool = this.offered().filter((id) => (this.pool ?? new Set([id])).has(id));
    this.candidates = closedFormStacks(
      this.state.batch,
      shownSide(this.state),
      pool,
      surface.referenceWavelengthNm,
    );
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
