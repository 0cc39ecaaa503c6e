import { expect } from 'vitest';
import { lettersOf, type PdfSheet } from './read-pdf.ts';

/** Sizes of paper in mm: ISO 216; ANSI/ASME Y14.1 for Letter (8.5 by 11 inches). */
const PAPERS = { A4: [210, 297], Letter: [215.9, 279.4] } as const;
const POINTS_PER_MM = 72 / 25.4;
/** The papers' own margins, mm: text stands within them, lot and page number in the lower one. */
const MARGIN = { side: 14, top: 13, bottom: 15 };

/** What must hold of any printed paper. */
export function expectClean(sheets: readonly PdfSheet[], paper: keyof typeof PAPERS, lot: string): void {
  const [widthMm, heightMm] = PAPERS[paper];
  for (const [index, { width, height, texts, letters }] of sheets.entries()) {
    expect(width / POINTS_PER_MM).toBeCloseTo(widthMm, 0);
    expect(height / POINTS_PER_MM).toBeCloseTo(heightMm, 0);
    expect(letters).toContain(lettersOf(`lot ${lot}`));
    expect(letters).toContain(lettersOf(`page ${index + 1} of ${sheets.length}`));
    for (const { text, x, y, width: length } of texts) {
      const place = `${text} on sheet ${index + 1}`;
      expect(x / POINTS_PER_MM, place).toBeGreaterThan(MARGIN.side - 2);
      expect((x + length) / POINTS_PER_MM, place).toBeLessThan(widthMm - MARGIN.side + 2);
      expect(y / POINTS_PER_MM, place).toBeLessThan(heightMm - MARGIN.top);
      expect(y / POINTS_PER_MM, place).toBeGreaterThan(4);
    }
    const foot = texts.filter(({ y }) => y / POINTS_PER_MM < MARGIN.bottom - 1).map(({ text }) => text);
    expect(lettersOf(foot.join(''))).toMatch(/^page\d+of\d+.*lot.*$|^.*lot.*page\d+of\d+$/);
  }
}

/** A row that went over the edge of a sheet has its letters on two of them. */
export function expectRowsWhole(sheets: readonly PdfSheet[], rows: readonly string[]): void {
  const split = rows.filter((row) => row !== '' && !sheets.some(({ letters }) => letters.includes(row)));
  expect(split).toEqual([]);
}
