import { html, unsafeCSS } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { unsafeHTML } from 'lit/directives/unsafe-html.js';
import { VERSION } from '../../base/version.ts';
import { fingerprintOf } from '../../batch/fingerprint.ts';
import { TRAVELLER_CSS } from '../../batch/traveller/traveller-css.ts';
import { cutTableBody, travellerBody } from '../../batch/traveller/traveller-html.ts';
import { baseStyles, buttonStyles } from '../../elements/shared-styles.ts';
import { inThemeColours } from '../paper-frame.ts';
import { routeHref } from '../routes.ts';
import { StationElement } from '../station-element.ts';
import { PageSheet } from './page-sheet.ts';
import { paperStyles } from './paper-styles.ts';

/** The traveller as it will be printed, the lot's paper for the chamber's operator; or its cut tables alone, for the monitor. */
@customElement('app-traveller-page')
export class TravellerPage extends StationElement {
  static override styles = [baseStyles, buttonStyles, unsafeCSS(inThemeColours(TRAVELLER_CSS)), paperStyles];

  @property({ type: Boolean }) cutsOnly = false;

  readonly #sheet = new PageSheet(this);

  override render() {
    const { batch, plan, isStale, outcome } = this.state;
    const [name, station, body] = this.cutsOnly
      ? (['Cut table', 'monitor', cutTableBody] as const)
      : (['Traveller', 'run', travellerBody] as const);
    const back = html`<a href=${routeHref({ page: 'station', batchId: batch.id, station })}>Back to the ${station}</a>`;
    if (plan === undefined || isStale)
      return html`<h1>${name}</h1><p class="empty">There is no ${name.toLowerCase()} while the plan has no answer: ${outcome.fault?.message}.</p>${back}`;
    this.#sheet.show(batch, name);
    const origin = { version: VERSION, fingerprint: fingerprintOf(batch) };
    return html`
      <div class="tools">
        <h1>${name}</h1>
        ${back}
        <button class="main" @click=${() => window.print()}>Print</button>
      </div>
      <div class="paper">${unsafeHTML(body(batch, plan, origin).toString())}</div>`;
  }
}
