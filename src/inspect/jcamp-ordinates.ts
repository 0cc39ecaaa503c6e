import { InputError } from '../base/errors.ts';

/** The most points that a spectrum may have; a few bytes of a hostile file could ask for any number. */
export const MOST_POINTS = 1_000_000;

/**
 * A token of a line of ordinates in any of the forms of JCAMP-DX 4.24 (R. S. McDonald, P. A. Wilks, Appl.
 * Spectrosc. 42, 151 (1988), "ASCII squeezed difference form"): plain and packed numbers; squeezed ones whose first
 * digit carries the sign (@ 0, A-I 1 to 9, a-i −1 to −9); differences (% 0, J-R, j-r); repeats (S-Z 1 to 8, s 9);
 * "?" for a point that is missing. An exponent needs its sign, as E alone begins a squeezed number.
 */
const TOKEN =
  /([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]\d{1,3})?)|([@A-Ia-i])(\d*\.?\d*)|([%J-Rj-r])(\d*)|([S-Zs])(\d*)|(\?)|[\s,;]+/y;

const POSITIVE = { squeezed: 'ABCDEFGHI', difference: 'JKLMNOPQR', repeat: 'STUVWXYZs' } as const;
const NEGATIVE = { squeezed: 'abcdefghi', difference: 'jklmnopqr' } as const;

/** Ordinates as they stand in the file (before YFACTOR); `undefined` for a missing point. */
export interface Ordinates {
  readonly y: readonly (number | undefined)[];
  /** For each line that begins with an abscissa: that abscissa and the number of the point it belongs to. */
  readonly checks: readonly { readonly x: number; readonly point: number }[];
}

/**
 * Decodes the lines of (X++(Y..Y)) data.
 * @throws InputError at what is no ordinate, where a line's check value differs from the point before it, or
 * where there are more points than `MOST_POINTS`.
 */
export function decodeOrdinates(lines: readonly string[]): Ordinates {
  const y: (number | undefined)[] = [];
  const checks: { x: number; point: number }[] = [];
  let endedInDifference = false;
  for (const line of lines) {
    if (line.trim() === '') continue;
    const first = y.length;
    const decoded = decodeLine(line, first);
    const repeatsLast = endedInDifference && decoded.y.length > 0;
    if (repeatsLast) {
      const [check] = decoded.y;
      if (check !== y.at(-1))
        throw new InputError(
          '',
          `the file is damaged: a line begins with the check value ${check}, the line before ended with ${y.at(-1)}`,
        );
      decoded.y.shift();
    }
    checks.push({ x: decoded.x, point: repeatsLast ? first - 1 : first });
    for (const value of decoded.y) y.push(value);
    endedInDifference = decoded.endedInDifference;
  }
  return { y, checks };
}

interface DecodedLine {
  readonly x: number;
  readonly y: (number | undefined)[];
  readonly endedInDifference: boolean;
}

function decodeLine(line: string, before: number): DecodedLine {
  const text = line.trim();
  const y: (number | undefined)[] = [];
  let x: number | undefined;
  let difference: number | undefined;
  for (let at = 0; at < text.length; ) {
    TOKEN.lastIndex = at;
    const token = TOKEN.exec(text);
    if (token === null) throw new InputError('', `"${text.slice(at, at + 20)}" is no ordinate of JCAMP-DX`);
    at = TOKEN.lastIndex;
    const [, plain, squeezed, squeezedDigits, leap, leapDigits, repeat, repeatDigits, missing] = token;
    if (plain !== undefined) {
      if (x === undefined) x = Number(plain);
      else y.push(Number(plain));
      difference = undefined;
    } else if (squeezed !== undefined) {
      const value = signed(squeezed, squeezedDigits, '@', 'squeezed');
      if (x === undefined) x = value;
      else y.push(value);
      difference = undefined;
    } else if (leap !== undefined) {
      difference = signed(leap, leapDigits, '%', 'difference');
      y.push(stepped(y, difference));
    } else if (repeat !== undefined) {
      const times = Number(`${POSITIVE.repeat.indexOf(repeat) + 1}${repeatDigits}`) - 1;
      if (y.length === 0) throw new InputError('', `the repeat "${repeat}" follows no ordinate`);
      for (let i = 0; i < times && before + y.length <= MOST_POINTS; i++)
        y.push(difference === undefined ? y.at(-1) : stepped(y, difference));
    } else if (missing !== undefined) {
      y.push(undefined);
      difference = undefined;
    }
    if (before + y.length > MOST_POINTS)
      throw new InputError('', `the spectrum has more than ${MOST_POINTS} points`);
  }
  if (x === undefined) throw new InputError('', `the line "${text.slice(0, 20)}" has no abscissa`);
  return { x, y, endedInDifference: difference !== undefined };
}

function stepped(y: readonly (number | undefined)[], difference: number): number {
  const last = y.at(-1);
  if (last === undefined) throw new InputError('', 'a difference follows no ordinate');
  return last + difference;
}

function signed(
  first: string,
  digits: string | undefined,
  zero: string,
  form: 'squeezed' | 'difference',
): number {
  if (first === zero) return Number(`0${digits}`);
  const positive = POSITIVE[form].indexOf(first) + 1;
  if (positive > 0) return Number(`${positive}${digits}`);
  return -Number(`${NEGATIVE[form].indexOf(first) + 1}${digits}`);
}
