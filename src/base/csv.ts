import Papa from 'papaparse';

/**
 * A table as the text of a CSV file (RFC 4180: commas, quotes doubled, lines end in CR LF). A text that a
 * spreadsheet would take for a formula is disarmed with an apostrophe.
 */
export function csvText(
  heading: readonly string[],
  rows: readonly (readonly (string | number | boolean)[])[],
): string {
  return `${Papa.unparse({ fields: [...heading], data: rows.map((row) => [...row]) }, { escapeFormulae: true })}\r\n`;
}
