import { html, LitElement, nothing } from 'lit';
import { property } from 'lit/decorators.js';
import { baseStyles } from '../shared-styles.ts';
import { type Verdict, verdictSign, verdictWord } from '../verdict/verdict-element.ts';
import { rippleStripStyles } from './ripple-strip-styles.ts';

/** One figure that everybody cares about. */
export interface RippleFigure {
  readonly name: string;
  /** Without its unit, as it is to be read: "0.31". */
  readonly formatted: string;
  readonly unit?: string;
  readonly value?: number;
  /** What the last edit added, in the figure's own unit; 0 or undefined for nothing. */
  readonly change?: number;
  /** The change as it is to be read, without its sign: "0.04". */
  readonly changeFormatted?: string;
  readonly betterWhen?: 'lower' | 'higher';
  /** `updating`: being computed, the old value still stands; `stale`: known to be out of date. */
  readonly state?: 'fresh' | 'updating' | 'stale';
  readonly verdict?: Verdict;
  /** A few words more, such as "≤ 0.40 % wanted". */
  readonly note?: string;
}

/**
 * The figures of the whole chain in one row, each with the change that the last edit made to it.
 *
 * @element cw-ripple-strip
 * @property figures - `RippleFigure[]`
 * @property label - name of the row
 * @csspart figure - one figure
 */
export class RippleStripElement extends LitElement {
  static override styles = [baseStyles, rippleStripStyles];

  @property({ attribute: false }) figures: readonly RippleFigure[] = [];
  @property() label = 'What the last edit changed';

  override render() {
    return html`
      <div class="row" role="group" tabindex="0" aria-label=${this.label}>
        <dl>${this.figures.map((figure) => this.figure(figure))}</dl>
      </div>
      <p class="visually-hidden" role="status">${this.spoken()}</p>
    `;
  }

  private figure(figure: RippleFigure) {
    const { verdict, state = 'fresh' } = figure;
    return html`
      <div part="figure" class="figure ${state} ${verdict ?? ''}">
        <dt>${figure.name}</dt>
        <dd class="value">
          ${verdict === undefined ? nothing : html`<span class="sign" aria-hidden="true">${verdictSign(verdict)}</span>`}
          <b>${figure.formatted}</b>${figure.unit ? html` <span class="unit">${figure.unit}</span>` : nothing}
          ${verdict === undefined ? nothing : html`<span class="visually-hidden">, ${verdictWord(verdict)}</span>`}
        </dd>
        <dd class="change ${state === 'fresh' ? direction(figure) : ''}">
          ${state === 'updating' ? html`<span class="pulse" aria-hidden="true"></span>updating` : state === 'stale' ? 'out of date' : changeText(figure)}
        </dd>
        ${figure.note ? html`<dd class="note">${figure.note}</dd>` : nothing}
      </div>
    `;
  }

  /** What has changed, for a screen reader; silent while anything is still being computed. */
  private spoken(): string {
    if (this.figures.some((figure) => figure.state === 'updating')) return '';
    const changed = this.figures.filter((figure) => changeText(figure) !== '');
    return changed
      .map((figure) => `${figure.name} ${figure.formatted} ${figure.unit ?? ''}`.trim())
      .join(', ');
  }
}

/** "▲ 0.04", "▼ 12" or nothing. */
function changeText({ change = 0, changeFormatted }: RippleFigure): string {
  if (change === 0) return '';
  return `${change > 0 ? '▲' : '▼'} ${changeFormatted ?? Math.abs(change)}`;
}

function direction({ change = 0, betterWhen }: RippleFigure): 'better' | 'worse' | '' {
  if (change === 0 || betterWhen === undefined) return '';
  return change > 0 === (betterWhen === 'higher') ? 'better' : 'worse';
}
