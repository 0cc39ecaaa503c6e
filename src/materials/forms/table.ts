import * as v from 'valibot';
import { InputError } from '../../base/errors.ts';
import { list, quantity, word } from '../../base/schema.ts';
import { intervalOf, monotoneCubic } from '../../math/monotone-cubic.ts';

/** The most points that a table may have. */
export const MOST_TABLE_POINTS = 20_000;

const wavelengths = list(quantity('nm', { min: 1, max: 1e6 }), { min: 1, max: MOST_TABLE_POINTS });
const indices = list(quantity('', { above: 0, max: 1000 }), { min: 1, max: MOST_TABLE_POINTS });
const extinctions = list(quantity('', { min: 0, max: 1000 }), { min: 1, max: MOST_TABLE_POINTS });
const interpolation = v.optional(word(['monotone-cubic', 'linear']), 'monotone-cubic');

/** The columns of a table as a request gives it; n and k are interpolated separately. */
export const tableColumns = {
  wavelengthNm: wavelengths,
  n: indices,
  k: v.exactOptional(extinctions),
};

/** n, and k where it stands on the same wavelengths, at points in increasing order of the wavelength. */
export const tableForm = v.strictObject({ form: v.literal('table'), interpolation, ...tableColumns });

/** k alone, where its wavelengths are not those of n. */
export const extinctionTable = v.strictObject({
  form: v.literal('table'),
  interpolation,
  wavelengthNm: wavelengths,
  k: extinctions,
});

export type Interpolation = 'monotone-cubic' | 'linear';

/**
 * The curve through one column of a table: the value at a wavelength in nm, the end's value beyond the ends.
 * @throws InputError where the wavelengths do not rise or the column's length is not theirs.
 */
export function columnCurve(
  wavelengthNm: readonly number[],
  column: readonly number[],
  name: 'n' | 'k',
  kind: Interpolation,
): (wavelengthNm: number) => number {
  requireRising(wavelengthNm);
  if (column.length !== wavelengthNm.length)
    throw new InputError(name, `${column.length} values stand against ${wavelengthNm.length} wavelengths`);
  const x = Float64Array.from(wavelengthNm);
  const y = Float64Array.from(column);
  return kind === 'linear' ? (nm) => linear(x, y, nm) : monotoneCubic(x, y).at;
}

function linear(x: Float64Array, y: Float64Array, wanted: number): number {
  const last = x.length - 1;
  if (wanted <= x[0]!) return y[0]!;
  if (wanted >= x[last]!) return y[last]!;
  const i = intervalOf(x, wanted);
  const t = (wanted - x[i]!) / (x[i + 1]! - x[i]!);
  return y[i]! * (1 - t) + y[i + 1]! * t;
}

function requireRising(wavelengthNm: readonly number[]): void {
  for (let i = 1; i < wavelengthNm.length; i++) {
    const [before, here] = [wavelengthNm[i - 1]!, wavelengthNm[i]!];
    if (here <= before)
      throw new InputError(`wavelengthNm[${i}]`, `${here} nm is not above ${before} nm, the one before it`);
  }
}
