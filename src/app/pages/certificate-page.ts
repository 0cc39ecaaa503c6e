import { html, unsafeCSS } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { unsafeHTML } from 'lit/directives/unsafe-html.js';
import { VERSION } from '../../base/version.ts';
import { fingerprintOf } from '../../batch/fingerprint.ts';
import { TRAVELLER_CSS } from '../../batch/traveller/traveller-css.ts';
import { baseStyles, buttonStyles } from '../../elements/shared-styles.ts';
import { certificateBody, certificateTitle } from '../../inspect/certificate/certificate-html.ts';
import { inThemeColours } from '../paper-frame.ts';
import { routeHref } from '../routes.ts';
import { StationElement } from '../station-element.ts';
import { PageSheet } from './page-sheet.ts';
import { paperStyles } from './paper-styles.ts';

/** A logged run's certificate of conformance, or its report where there is nothing to certify, as it will be printed. */
@customElement('app-certificate-page')
export class CertificatePage extends StationElement {
  static override styles = [baseStyles, buttonStyles, unsafeCSS(inThemeColours(TRAVELLER_CSS)), paperStyles];

  @property({ attribute: false }) runId = '';

  readonly #sheet = new PageSheet(this);

  override render() {
    const { batch } = this.state;
    const run = batch.runs.find(({ id }) => id === this.runId);
    const back = routeHref({
      page: 'station',
      batchId: batch.id,
      station: 'inspect',
      ...(run === undefined ? {} : { run: run.id }),
    });
    const instead = (sentence: string) =>
      html`<h1>Certificate</h1><p class="empty">${sentence}</p><a href=${back}>Back to the inspection</a>`;
    if (run === undefined) return instead(`The log of this batch holds no run "${this.runId}".`);
    const facts = { batch, run, origin: { version: VERSION, fingerprint: fingerprintOf(batch) } };
    this.#sheet.show(batch, certificateTitle(facts));
    return html`
      <div class="tools">
        <h1>${certificateTitle(facts)}</h1>
        <a href=${back}>Back to the inspection</a>
        <button class="main" @click=${() => window.print()}>Print</button>
      </div>
      <div class="paper">${unsafeHTML(certificateBody(facts).toString())}</div>`;
  }
}
