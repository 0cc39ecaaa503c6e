import { css, html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { type Figure, figuresOf } from '../../batch/plan/figures.ts';
import '../../elements/ripple-strip/cw-ripple-strip.ts';
import type { RippleFigure } from '../../elements/ripple-strip/ripple-strip-element.ts';
import type { BenchState } from '../bench-state.ts';

/** The strip along the bench's lower edge: the figures that everybody cares about and what the last edit did to each. */
@customElement('app-figure-strip')
export class FigureStrip extends LitElement {
  static override styles = css`
    :host {
      display: block;
    }
  `;

  @property({ attribute: false }) state!: BenchState;

  override render() {
    return html`<cw-ripple-strip .figures=${rippleFigures(this.state)}></cw-ripple-strip>`;
  }
}

/** The plan's figures as the strip shows them. */
export function rippleFigures({ plan, planBefore, isStale, yields, step }: BenchState): RippleFigure[] {
  if (plan === undefined) return [];
  const before = planBefore === undefined ? [] : figuresOf(planBefore, yields.before);
  const earlier = new Map(before.map((figure) => [figure.id, figure]));
  const figures = figuresOf(plan, yields.answer).map((figure) => {
    const old = step === '' ? undefined : earlier.get(figure.id);
    const isUpdating = BY_YIELD.includes(figure.id) && yields.isUpdating;
    return rippleFigure(figure, old, isUpdating ? 'updating' : isStale ? 'stale' : 'fresh');
  });
  if (yields.answer === undefined && yields.isUpdating) figures.splice(1, 0, FIRST_YIELD);
  return figures;
}

/** Figures that wait for the yield. */
const BY_YIELD = ['yield', 'cost'];

const FIRST_YIELD: RippleFigure = { name: 'expected yield', formatted: '…', state: 'updating' };

function rippleFigure(
  figure: Figure,
  old: Figure | undefined,
  state: 'fresh' | 'updating' | 'stale',
): RippleFigure {
  const change = old === undefined || old.text === figure.text ? 0 : figure.value - old.value;
  return {
    name: figure.label,
    formatted: figure.text,
    value: figure.value,
    state,
    ...(change === 0 ? {} : { change, changeFormatted: figure.changeText(change).replace(/^[+\u2212]/, '') }),
    ...(figure.betterWhen === 'neither' ? {} : { betterWhen: figure.betterWhen }),
    ...(figure.met === undefined ? {} : { verdict: figure.met ? 'met' : 'missed' }),
  };
}
