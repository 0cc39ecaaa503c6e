import { html, unsafeCSS } from 'lit';
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
import { PageSheet } from './page-sheet.ts';
import { paperStyles } from './paper-styles.ts';

/** The traveller as it will be printed: the lot's paper for the chamber's operator. */
@customElement('app-traveller-page')
export class TravellerPage extends StationElement {
  static override styles = [baseStyles, buttonStyles, unsafeCSS(inThemeColours(TRAVELLER_CSS)), paperStyles];

  readonly #sheet = new PageSheet(this);

  override render() {
    const { batch, plan, isStale, outcome } = this.state;
    const back = routeHref({ page: 'station', batchId: batch.id, station: 'run' });
    if (plan === undefined || isStale)
      return html`<h1>Traveller</h1><p class="empty">There is no traveller while the plan has no answer: ${outcome.fault?.message}.</p><a href=${back}>Back to the run</a>`;
    this.#sheet.show(batch, 'Traveller');
    const origin = { version: VERSION, fingerprint: fingerprintOf(batch) };
    return html`
      <div class="tools">
        <h1>Traveller</h1>
        <a href=${back}>Back to the run</a>
        <button class="main" @click=${() => window.print()}>Print</button>
      </div>
      <div class="paper">${unsafeHTML(travellerBody(batch, plan, origin).toString())}</div>`;
  }
}
