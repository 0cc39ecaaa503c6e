import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { TRAVELLER_CSS } from '../batch/traveller/traveller-css.ts';
import { themeCss } from '../elements/tokens/theme-css.ts';

/** The greys of paper by the token that stands for them on the screen; on paper the tokens are these greys. */
const COLOURS: Readonly<Record<string, string>> = {
  '#111': 'var(--cw-ink)',
  '#fff': 'var(--cw-sheet)',
  '#444': 'var(--cw-ink-soft)',
  '#999': 'var(--cw-rule-strong)',
  '#ccc': 'var(--cw-rule)',
};

/** The traveller's style in the room's light: no white sheet in a dark chamber room. */
export function inThemeColours(style: string): string {
  return style.replace(/#[0-9a-f]{3}\b/g, (colour) => COLOURS[colour] ?? colour);
}

const FRAME_CSS = `${themeCss()} body { margin: 0; padding: 0 1rem; background: var(--cw-sheet); } ${inThemeColours(TRAVELLER_CSS)}`;

/**
 * Looks after a frame that shows a page of the traveller: its look is given by script, since the page's policy allows no
 * style written into a document, and follows the theme of the page around it. On paper it is paper.
 */
export class PaperFrame implements ReactiveController {
  #frame: HTMLIFrameElement | undefined;
  readonly #rules: () => string;
  readonly #watch = new MutationObserver(() => this.#followTheme());

  /** @param rules of the printed sheets, as `pageRules` makes them; asked for when the page is loaded. */
  constructor(host: ReactiveControllerHost, rules: () => string) {
    this.#rules = rules;
    host.addController(this);
  }

  hostConnected(): void {
    this.#watch.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme'] });
  }

  hostDisconnected(): void {
    this.#watch.disconnect();
  }

  /** For the frame's `load`. */
  readonly dress = (event: Event): void => {
    this.#frame = event.target as HTMLIFrameElement;
    const { contentWindow, contentDocument } = this.#frame;
    if (contentWindow === null || contentDocument === null) return;
    const sheet = new (contentWindow as Window & typeof globalThis).CSSStyleSheet();
    sheet.replaceSync(`${FRAME_CSS}\n${this.#rules()}`);
    contentDocument.adoptedStyleSheets = [sheet];
    this.#followTheme();
  };

  #followTheme(): void {
    const root = this.#frame?.contentDocument?.documentElement;
    if (root === undefined) return;
    const { theme } = document.documentElement.dataset;
    if (theme === undefined) delete root.dataset.theme;
    else root.dataset.theme = theme;
  }
}
