import { css, html, LitElement, nothing, type PropertyValues } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import { stationStyles } from '../station-styles.ts';
import { TOUR_STEPS } from './tour-steps.ts';

/** The reader goes to a step of the tour, or ends it (`undefined`). */
export class TourStepEvent extends Event {
  readonly step: number | undefined;

  constructor(step: number | undefined) {
    super('app-tour-step', { bubbles: true, composed: true });
    this.step = step;
  }
}

/** A card that goes along: it lies over the bench but leaves it free to be tried. Escape ends the tour. */
@customElement('app-tour-card')
export class TourCard extends LitElement {
  static override styles = [
    stationStyles,
    css`
      section {
        position: fixed;
        right: clamp(0.75rem, 2.5vw, 2.25rem);
        bottom: 7.5rem;
        z-index: 5;
        display: grid;
        gap: var(--cw-space-3);
        width: min(24rem, calc(100vw - 1.5rem));
        padding: var(--cw-space-4);
        border: 2px solid var(--cw-ink);
        border-radius: var(--cw-radius);
        background: var(--cw-sheet);
        color: var(--cw-ink);
        box-shadow: 0 0.5rem 1.5rem rgb(0 0 0 / 25%);
      }
      h2:focus {
        outline: none;
      }
      .row {
        justify-content: end;
      }
      .end {
        margin-inline-end: auto;
      }
      @media print {
        section {
          display: none;
        }
      }
    `,
  ];

  @property({ type: Number }) step = 0;
  @query('h2') private readonly heading!: HTMLElement;

  protected override updated(changed: PropertyValues<this>): void {
    if (changed.has('step')) this.heading.focus({ preventScroll: true });
  }

  override render() {
    const { title, words } = TOUR_STEPS[this.step]!;
    const isLast = this.step === TOUR_STEPS.length - 1;
    return html`<section role="dialog" aria-labelledby="title" aria-describedby="words" @keydown=${this.onKey}>
      <p class="small soft">Step ${this.step + 1} of ${TOUR_STEPS.length}</p>
      <h2 id="title" tabindex="-1">${title}</h2>
      <p id="words">${words}</p>
      <div class="row">
        ${isLast ? nothing : html`<button class="quiet end" @click=${() => this.go(undefined)}>End the tour</button>`}
        ${this.step === 0 ? nothing : html`<button @click=${() => this.go(this.step - 1)}>Back</button>`}
        <button class="main" @click=${() => this.go(isLast ? undefined : this.step + 1)}>${isLast ? 'Done' : 'Next'}</button>
      </div>
    </section>`;
  }

  private readonly onKey = (event: KeyboardEvent): void => {
    if (event.key !== 'Escape') return;
    event.stopPropagation();
    this.go(undefined);
  };

  private go(step: number | undefined): void {
    this.dispatchEvent(new TourStepEvent(step));
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'app-tour-card': TourCard;
  }
  interface HTMLElementEventMap {
    'app-tour-step': TourStepEvent;
  }
}
