import type { Batch } from '../../batch/document.ts';

/** Rules for the printed sheets: A4, the lot at the foot of each, its number and how many there are. */
export function pageSheet({ order }: Batch): CSSStyleSheet {
  const lot = `${order.title} · lot ${order.lot}`.replace(/["\\<>\p{Cc}]/gu, ' ');
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(
    `@page { size: A4; margin: 16mm 14mm 18mm; @bottom-left { content: "${lot}"; font: 8pt sans-serif; } @bottom-right { content: "page " counter(page) " of " counter(pages); font: 8pt sans-serif; } }`,
  );
  return sheet;
}
