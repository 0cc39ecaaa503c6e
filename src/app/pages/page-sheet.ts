import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Batch } from '../../batch/document.ts';
import { pageRules } from '../../batch/traveller/printed-page.ts';

/**
 * Lot and page numbers at the foot of the printed sheets. Rules for pages belong to the whole document; they stand there
 * as long as the page that set them.
 */
export class PageSheet implements ReactiveController {
  #sheet: CSSStyleSheet | undefined;

  constructor(host: ReactiveControllerHost) {
    host.addController(this);
  }

  hostDisconnected(): void {
    this.#use(undefined);
  }

  show(batch: Batch, name: string): void {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(pageRules(batch, name));
    this.#use(sheet);
  }

  #use(sheet: CSSStyleSheet | undefined): void {
    const others = document.adoptedStyleSheets.filter((one) => one !== this.#sheet);
    document.adoptedStyleSheets = sheet === undefined ? others : [...others, sheet];
    this.#sheet = sheet;
  }
}
