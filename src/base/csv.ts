/**
 * Where a spreadsheet would see a formula begin: at the head of a text, behind blanks and quotes too, in the wide letters of East Asian
 * keyboards too, and behind the marks at which one that writes decimal commas parts cells, whatever the quotes say.
 */
const FORMULA = /(^|[;\t\r\n])(?=[\s"]*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20])|^(?=[\t\r\n])/g;

/**
 * A table as the text of a CSV file (RFC 4180: commas, quotes doubled, lines end in CR LF). A text that a
 * spreadsheet would take for a formula is disarmed with an apostrophe (OWASP, CSV Injection).
 */
export function csvText(
  heading: readonly string[],
  rows: readonly (readonly (string | number | boolean)[])[],
): string {
  return [heading, ...rows].map((row) => `${row.map(cell).join(',')}\r\n`).join('');
}

function cell(value: string | number | boolean): string {
  if (typeof value !== 'string') return String(value);
  const disarmed = value.replace(FORMULA, "$1'");
  if (disarmed === value && !/[",\r\n]|^\s|\s$/.test(value)) return value;
  return `"${disarmed.replaceAll('"', '""')}"`;
}
