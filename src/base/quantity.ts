/** A number as somebody typed it, with the unit as typed ('' where there is none). */
export interface TypedQuantity {
  readonly number: number;
  readonly unit: string;
}

/** What was typed cannot be read: one clear sentence fragment. */
export interface QuantityFault {
  readonly fault: string;
}

const SUPERSCRIPTS = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/** Typographic signs to plain ones: minus, spaces, powers of ten written out, raised digits. */
function plain(text: string): string {
  return text
    .replace(/[−–]/g, '-')
    .replace(/[\u00a0\u2007\u2009\u202f\t]/g, ' ')
    .replace(/⁻/g, '-')
    .replace(/[⁰¹²³⁴⁵⁶⁷⁸⁹]/g, (digit) => String(SUPERSCRIPTS.indexOf(digit)))
    .replace(/(\d)\s*[×x·*]\s*10\s*\^?\s*(-?\d+)/, '$1e$2')
    .trim();
}

/** The digits of a number with one decimal point, or undefined where the marks make no sense. */
function withPoint(digits: string): string | undefined {
  const commas = digits.split(',').length - 1;
  const points = digits.split('.').length - 1;
  const last = Math.max(digits.lastIndexOf(','), digits.lastIndexOf('.'));
  const oneMark = commas + points === 1;
  const decimalAt = oneMark || (commas > 0 && points > 0) ? last : digits.length;
  const whole = digits.slice(0, decimalAt);
  const fraction = digits.slice(decimalAt + 1);
  const grouped = /^\d{1,3}([ ,.'’]\d{3})*$/.test(whole) || /^\d*$/.test(whole);
  const marks = new Set(whole.replace(/\d/g, ''));
  if (!grouped || marks.size > 1 || marks.has(digits[decimalAt] ?? '') || !/^\d*$/.test(fraction))
    return undefined;
  const bare = whole.replace(/\D/g, '');
  return bare + fraction === '' ? undefined : `${bare || '0'}.${fraction || '0'}`;
}

/**
 * Reads a number with an optional unit: "1.2 um", "12 angstrom/s", "2e-5 mbar", "2·10⁻⁵ mbar", "1,25"
 * (one comma is a decimal comma), "1.234,5" and "12 000" (marks every three digits group).
 */
export function readQuantity(text: string): TypedQuantity | QuantityFault {
  const typed = plain(text);
  if (typed === '') return { fault: 'nothing is typed' };
  const match = /^([+-]?)\s*([\d.,](?:[\d.,]|[ '’](?=\d))*)(e[+-]?\d+)?\s*(.*)$/i.exec(typed);
  if (!match) return { fault: `"${text.trim()}" does not start with a number` };
  const [, sign = '', digits = '', exponent = '', unit = ''] = match;
  const pointed = withPoint(digits);
  if (pointed === undefined) return { fault: `"${digits}" is not a number` };
  const number = Number(sign + pointed + exponent);
  if (!Number.isFinite(number)) return { fault: `"${typed}" is too large a number` };
  return { number, unit: unit.trim() };
}

/**
 * Moves a typed number by `steps` of its last digit: "92.10" and 1 give "92.11", "120" and −1 give "119",
 * "2e-5" and 1 give "3e-5". Sign, exponent and unit stay; text that starts with no number comes back as is.
 */
export function stepLastDigit(text: string, steps: number): string {
  const match = /^([+-]?[\d.,]+)(.*)$/s.exec(plain(text));
  if (!match) return text;
  const [, number = '', rest = ''] = match;
  const pointed = number.replace(',', '.');
  const decimals = pointed.includes('.') ? pointed.length - pointed.indexOf('.') - 1 : 0;
  const value = Number(pointed);
  if (!Number.isFinite(value)) return text;
  const moved = (Math.round(value * 10 ** decimals) + steps) / 10 ** decimals;
  return moved.toFixed(decimals) + rest;
}
