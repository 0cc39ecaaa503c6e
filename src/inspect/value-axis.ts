import { InputError } from '../base/errors.ts';
import type { ValueScale } from './column-heading.ts';

/** How far a reading may stray beyond 0 and 1 by noise and still be taken. */
const NOISE = 0.02;

/** The values as fractions: percent over 100, absorbance as 10^−A. */
export function fractions(y: readonly number[], scale: ValueScale): number[] {
  switch (scale) {
    case 'fraction':
      return [...y];
    case 'percent':
      return y.map((value) => value / 100);
    case 'absorbance':
      return y.map((value) => 10 ** -value);
  }
}

/** The scale that values without one most likely have: above 1.5 they can be percent only. */
export function likelyScale(y: readonly number[]): ValueScale {
  return y.some((value) => value > 1.5) ? 'percent' : 'fraction';
}

/**
 * Refuses values that no reflectance or transmittance can have and returns a sentence on those that stray a
 * little, as noise and an imperfect reference make them.
 * @throws InputError with the worst value and its wavelength.
 */
export function checkFractions(
  values: readonly number[],
  wavelengthNm: readonly number[],
  quantity: string,
): string[] {
  let worst = 0;
  values.forEach((value, i) => {
    if (excess(value) > excess(values[worst]!)) worst = i;
  });
  const value = values[worst]!;
  if (excess(value) === 0) return [];
  const side = value < 0 ? 'below 0 %' : 'above 100 %';
  const where = `${quantity} is ${Number((100 * value).toPrecision(4))} % at ${Number(wavelengthNm[worst]!.toPrecision(6))} nm`;
  if (value > 1 + NOISE || value < -NOISE)
    throw new InputError(
      '',
      `${where}, ${side}; check the reference and the scale (fraction, percent or absorbance)`,
    );
  return [`${where}, ${side} by noise or by the reference; the values are kept as they are.`];
}

function excess(value: number): number {
  return Math.max(0, value - 1, -value);
}
