import { escapeMarkup, type Markup } from '../../base/markup.ts';
import type { Batch } from '../document.ts';
import { lotWords } from '../lot-words.ts';
import { TRAVELLER_CSS } from './traveller-css.ts';

/** What a printed page says of where it came from. */
export interface PageOrigin {
  readonly version: string;
  /** All digits; see `fingerprintOf`. */
  readonly fingerprint: string;
}

/**
 * Rules for the printed sheets: the lot at the foot of each, its number and how many there are. The paper is the
 * printer's: A4 and Letter both fit.
 */
export function pageRules({ order }: Batch, name: string): string {
  const foot = cssText(`${name} · ${order.title} · ${lotWords(order.lot)}`);
  return `@page { margin: 13mm 14mm 15mm; @bottom-left { content: "${foot}"; font: 8pt sans-serif; } @bottom-right { content: "page " counter(page) " of " counter(pages); font: 8pt sans-serif; white-space: nowrap; width: 30mm; } }`;
}

/** A whole document that prints as it is: no script, no outside file. */
export function printedPage(batch: Batch, name: string, body: Markup): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeMarkup(`${name} · ${lotWords(batch.order.lot)}`)}</title>
<style>${TRAVELLER_CSS}
${pageRules(batch, name)}
</style>
</head>
<body>${body}</body>
</html>
`;
}

/** A text made safe within a CSS string in double quotes. */
function cssText(text: string): string {
  return text.replace(/["\\<>\p{Cc}]/gu, ' ');
}
