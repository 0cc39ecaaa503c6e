import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { baseStyles } from '../../elements/shared-styles.ts';
import type { BenchState } from '../bench-state.ts';
import type { Station } from '../routes.ts';
import { stationChanges } from '../stations/station-changes.ts';

/** More changes than this are counted, not listed. */
const MOST_SHOWN = 6;

/** What the last edit did to the figures of one station, before and after; a sentence where the plan cannot follow. */
@customElement('app-change-line')
export class ChangeLine extends LitElement {
  static override styles = [
    baseStyles,
    css`
      :host {
        display: contents;
      }
      .line {
        margin: 0;
        display: flex;
        flex-wrap: wrap;
        gap: 0 var(--cw-space-4);
        padding: var(--cw-space-1) 0 var(--cw-space-1) var(--cw-space-3);
        border-left: 4px solid var(--cw-residual);
        font-size: var(--cw-size-small);
      }
      .step {
        font-weight: 600;
      }
      .name,
      s {
        color: var(--cw-ink-soft);
      }
      s {
        text-decoration-thickness: 1px;
      }
      .fault {
        border-left-color: var(--cw-missed);
        background: var(--cw-missed-wash);
        color: var(--cw-missed);
      }
    `,
  ];

  @property({ attribute: false }) state!: BenchState;
  @property() station: Station = 'order';

  override render() {
    const { outcome, step, plan } = this.state;
    if (outcome.fault !== undefined)
      return html`<p class="line fault" role="status">
        <span class="step">The plan cannot follow:</span> ${outcome.fault.message}.
        ${plan === undefined ? nothing : 'All figures are those from before and out of date.'}
      </p>`;
    const changes = stationChanges(this.state, this.station);
    if (step === '') return nothing;
    if (changes.length === 0)
      return html`<p class="line"><span class="step">${step}</span><span class="name">changes nothing at this station</span></p>`;
    const shown = changes.slice(0, MOST_SHOWN);
    return html`<p class="line">
      <span class="step">${step}</span>
      ${shown.map(
        ({ name, before, after }) =>
          html`<span><span class="name">${name}</span> <s>${before}</s> → <b>${after}</b></span>`,
      )}
      ${changes.length > shown.length ? html`<span class="name">and ${changes.length - shown.length} more</span>` : nothing}
    </p>`;
  }
}
