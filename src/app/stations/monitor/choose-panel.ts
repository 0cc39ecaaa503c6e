import { html, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import type { CutRule } from '../../../monitor/cut-rule.ts';
import { PanelRun } from '../../panel-run.ts';
import { StationElement } from '../../station-element.ts';
import { shownSide, shownSurface } from '../sides-shown.ts';
import { chooseRequest } from './monitor-requests.ts';

interface Chosen {
  readonly wavelengthNm: number;
  readonly signal: 'R' | 'T';
  readonly rule: CutRule;
  readonly expectedErrorNm: number;
  readonly reason: string;
}

/** Has wavelength, signal and rule of every layer chosen, puts them in as one edit, and says why, layer by layer. */
@customElement('app-choose-panel')
export class ChoosePanel extends StationElement {
  readonly #choice = new PanelRun<{ chosen: Chosen[] }>(this, 'monitor');
  /** The reasons, as long as they speak of what is there: glass, layers and monitor as they were left by the choice. */
  @state() private said: { readonly reasons: readonly string[]; readonly about: string } | undefined;

  override render() {
    const { running, fault } = this.#choice;
    const reasons = this.said?.about === this.about() ? this.said.reasons : [];
    return html`<div class="stack">
      <div class="row">
        <button class="main" ?disabled=${running !== undefined} @click=${() => this.choose()}>Choose wavelength and rule for every layer</button>
        ${running === undefined ? html`<span class="small soft">for the least expected error with the noise below; one edit, which undo takes back</span>` : html`<button @click=${() => this.#choice.cancel()}>Cancel</button><span role="status">Weighing wavelengths …</span>`}
      </div>
      ${fault === '' ? nothing : html`<p class="said" role="alert">${fault}</p>`}
      <div role="status">
        ${reasons.length === 0 ? nothing : html`<ol class="reasons">${reasons.map((reason) => html`<li>${reason}</li>`)}</ol>`}
      </div>
    </div>`;
  }

  private about(state = this.state): string {
    return JSON.stringify([shownSide(state), shownSurface(state), state.batch.monitor]);
  }

  private async choose(): Promise<void> {
    const surface = shownSurface(this.state);
    const before = this.about();
    const answer = await this.#choice.ask(chooseRequest(this.state.batch, surface));
    if (answer === undefined || before !== this.about()) return;
    const { chosen } = answer;
    this.bench.edit({
      name: 'Wavelength and rule chosen for every layer',
      recipe: ({ monitor }) => {
        for (const [index, { id }] of surface.layers.entries()) {
          const { wavelengthNm, signal, rule } = chosen[index]!;
          monitor.layers[id] = { ...monitor.layers[id], wavelengthNm, signal, rule };
        }
      },
    });
    this.said = { reasons: chosen.map(({ reason }) => reason), about: this.about(this.bench.state) };
  }
}
