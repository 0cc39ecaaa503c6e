import { css, html } from 'lit';
import { customElement } from 'lit/decorators.js';
import { unsafeHTML } from 'lit/directives/unsafe-html.js';
import { VERSION } from '../../base/version.ts';
import { fingerprintOf } from '../../batch/fingerprint.ts';
import { TRAVELLER_CSS } from '../../batch/traveller/traveller-css.ts';
import { travellerBody } from '../../batch/traveller/traveller-html.ts';
import { baseStyles, buttonStyles } from '../../elements/shared-styles.ts';
import { inThemeColours } from '../paper-frame.ts';
import { routeHref } from '../routes.ts';
import { StationElement } from '../station-element.ts';
import { pageSheet } from './page-sheet.ts';

/** The traveller as it will be printed: the lot's paper for the chamber's operator. */
@customElement('app-traveller-page')
export class TravellerPage extends StationElement {
  static override styles = [
    baseStyles,
    buttonStyles,
    css`
      .tools {
        display: flex;
        flex-wrap: wrap;
        gap: var(--cw-space-3) var(--cw-space-4);
        align-items: center;
        margin-bottom: var(--cw-space-4);
      }
      .tools h1 {
        margin: 0 auto 0 0;
        font: 600 var(--cw-size-title) / 1.2 var(--cw-font-title);
      }
      a {
        color: var(--cw-ink);
      }
      .paper {
        padding: 1rem clamp(0.5rem, 3vw, 3rem);
        background: var(--cw-sheet);
        box-shadow: 0 0 0 var(--cw-hairline) var(--cw-rule-strong);
        overflow-x: auto;
      }
      @media print {
        .tools {
          display: none;
        }
        .paper {
          padding: 0;
          box-shadow: none;
          overflow: visible;
        }
      }
    `,
  ];

  #sheet: CSSStyleSheet | undefined;

  override connectedCallback(): void {
    super.connectedCallback();
    const style = new CSSStyleSheet();
    // Rules for pages are rules of the whole document, see `#usePageSheet`.
    style.replaceSync(inThemeColours(TRAVELLER_CSS).replace(/@page[^{]*\{[^{}]*\}/g, ''));
    this.shadowRoot?.adoptedStyleSheets.push(style);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#usePageSheet(undefined);
  }

  override render() {
    const { batch, plan, isStale, outcome } = this.state;
    const back = routeHref({ page: 'station', batchId: batch.id, station: 'run' });
    if (plan === undefined || isStale)
      return html`<h1>Traveller</h1><p class="empty">There is no traveller while the plan has no answer: ${outcome.fault?.message}.</p><a href=${back}>Back to the run</a>`;
    this.#usePageSheet(pageSheet(batch));
    const origin = { version: VERSION, fingerprint: fingerprintOf(batch) };
    return html`
      <div class="tools">
        <h1>Traveller</h1>
        <a href=${back}>Back to the run</a>
        <button class="main" @click=${() => window.print()}>Print</button>
      </div>
      <div class="paper">${unsafeHTML(travellerBody(batch, plan, origin).toString())}</div>`;
  }

  /** Page size, lot and page numbers are rules of the whole document; they stand there as long as this page does. */
  #usePageSheet(sheet: CSSStyleSheet | undefined): void {
    const others = document.adoptedStyleSheets.filter((one) => one !== this.#sheet);
    document.adoptedStyleSheets = sheet === undefined ? others : [...others, sheet];
    this.#sheet = sheet;
  }
}
