import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { fixed, percent } from '../../../base/format.ts';
import { shownSurface, shownSurfacePlan } from '../sides-shown.ts';
import { DeskPanel, faultLine } from './desk-panel.ts';
import { toleranceRequest } from './task-requests.ts';

/** What manufacturing errors do to the stack: yield with its interval, and a band in the station's chart. */
@customElement('app-tolerance-panel')
export class TolerancePanel extends DeskPanel {
  override render() {
    const { desk } = this;
    const { errors } = desk;
    const surface = shownSurface(this.state);
    const set = (change: Partial<typeof errors>) => {
      desk.errors = { ...desk.errors, ...change };
    };
    return html`<section class="group" aria-label="Tolerance">
      <div class="head"><h2>Tolerance</h2></div>
      <p class="small soft">Errors as one sigma of a normal distribution, drawn anew for every layer of every trial; the monitor's own errors make the expected yield beside the chart.</p>
      <div class="fields">
        ${this.wish('Thickness, relative', errors.relativePercent, '%', { min: 0, max: 50 }, (relativePercent) => set({ relativePercent }))}
        ${this.wish('Thickness, absolute', errors.absoluteNm, 'nm', { min: 0, max: 1000 }, (absoluteNm) => set({ absoluteNm }))}
        ${this.wish('Index', errors.indexPercent, '%', { min: 0, max: 20 }, (indexPercent) => set({ indexPercent }))}
        ${this.wish('Trials', errors.trials, '', { min: 1, max: 100_000, whole: true }, (trials) => set({ trials }))}
        ${this.wish('Seed of the trials', errors.seed, '', { min: 0, max: 1e9, whole: true }, (seed) => set({ seed }))}
      </div>
      ${
        surface.requirements.length === 0 || surface.layers.length === 0
          ? html`<p class="empty">A yield needs layers and a requirement that they are held against.</p>`
          : html`<div class="row"><label class="flag"><input type="checkbox" .checked=${desk.followsTolerance} @change=${this.onFollow} />Make virtual coatings of this stack, after every edit</label></div>
            <div role="status" class="stack">${desk.followsTolerance ? this.answer() : nothing}</div>`
      }
    </section>`;
  }

  protected override willUpdate(): void {
    const { desk } = this;
    const surface = shownSurface(this.state);
    if (!desk.followsTolerance || surface.requirements.length === 0 || surface.layers.length === 0) return;
    desk.tolerance.follow(toleranceRequest(this.state.batch, surface, surface.layers, desk.errors));
  }

  private answer() {
    const { tolerance } = this.desk;
    const { answer, state: now } = tolerance;
    const isRunning = now.kind === 'running';
    if (answer === undefined) return isRunning ? html`<p class="soft">updating …</p>` : faultLine(now);
    const [low, high] = answer.yield95;
    const texts = shownSurfacePlan(this.state)?.requirements ?? [];
    return html`
      <p class=${isRunning ? 'soft' : ''}>Yield <b>${percent(answer.yield, 1)}</b>, with 95 % confidence between ${percent(low, 1)} and ${percent(high, 1)}${isRunning ? ', updating …' : nothing}</p>
      ${texts.length < 2 ? nothing : html`<ul class="plain small">${texts.map(({ text }, place) => html`<li>${text}: met by ${fixed(100 * (answer.requirementYield[place] ?? 0), 1)} %</li>`)}</ul>`}
      <p class="small soft">The band in the chart of reflectance above is where 5 to 95 % of the trials lie.</p>
      ${answer.warnings.map((warning) => html`<p class="small">${warning}</p>`)}
    `;
  }

  private readonly onFollow = (event: Event): void => {
    const { desk } = this;
    desk.followsTolerance = (event.target as HTMLInputElement).checked;
    if (!desk.followsTolerance) desk.tolerance.forget();
    desk.changed();
  };
}
