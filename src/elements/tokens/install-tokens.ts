import { themeCss } from './theme-css.ts';

const installed = new WeakSet<Document>();

/** Gives a document the tokens, once. Every element's registration calls it, so one import is all a page needs. */
export function installTokens(target: Document = document): void {
  if (installed.has(target)) return;
  installed.add(target);
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(themeCss());
  target.adoptedStyleSheets = [...target.adoptedStyleSheets, sheet];
}
