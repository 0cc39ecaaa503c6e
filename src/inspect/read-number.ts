/** What separates the whole part of a number from its fraction. */
export type DecimalMark = '.' | ',';

const PLAIN: Readonly<Record<DecimalMark, RegExp>> = {
  '.': /^[+\-−]?(?:\d+\.?\d*|\.\d+)(?:[eEdD][+\-−]?\d+)?$/,
  ',': /^[+\-−]?(?:\d+,?\d*|,\d+)(?:[eEdD][+\-−]?\d+)?$/,
};
/** Groups of thousands are read only where the decimal mark stands too, so that no comma is in doubt. */
const GROUPED: Readonly<Record<DecimalMark, RegExp>> = {
  '.': /^[+\-−]?\d{1,3}(?:[,' \u00a0\u202f]\d{3})+\.\d+$/,
  ',': /^[+\-−]?\d{1,3}(?:[.' \u00a0\u202f]\d{3})+,\d+$/,
};

/** The number that a cell of a table holds, or `undefined`; a percent sign after it is allowed. */
export function readNumber(cell: string, mark: DecimalMark): number | undefined {
  const text = cell.trim().replace(/\s*%$/, '');
  let plain = text;
  if (!PLAIN[mark].test(text)) {
    if (!GROUPED[mark].test(text)) return undefined;
    plain = text.replace(mark === '.' ? /[,' \u00a0\u202f]/g : /[.' \u00a0\u202f]/g, '');
  }
  const value = Number(plain.replace(',', '.').replaceAll('−', '-').replace(/[dD]/, 'e'));
  return Number.isFinite(value) ? value : undefined;
}
