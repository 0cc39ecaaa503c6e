import { NM_PER_ANGSTROM, NM_PER_UM } from '../base/constants.ts';
import { InputError } from '../base/errors.ts';
import type { XUnit } from './column-heading.ts';

/** h c / e in nm eV, from the exact values of the SI. */
const NM_EV = (6.626_070_15e-34 * 299_792_458 * 1e9) / 1.602_176_634e-19;
const NM_PER_CM = 1e7;

/** The wavelengths in nm of a spectral axis in any unit. */
export function wavelengthsNm(x: readonly number[], unit: XUnit): number[] {
  const wrong = x.find((value) => !(value > 0));
  if (wrong !== undefined)
    throw new InputError('', `${wrong} is not above 0 on the spectral axis (read as ${unit})`);
  return x.map((value) => toNm(value, unit));
}

function toNm(value: number, unit: XUnit): number {
  switch (unit) {
    case 'nm':
      return value;
    case 'um':
      return value * NM_PER_UM;
    case 'angstrom':
      return value * NM_PER_ANGSTROM;
    case 'cm-1':
      return NM_PER_CM / value;
    case 'eV':
      return NM_EV / value;
  }
}

/** The unit that a spectral axis without one most likely has, from the size of its numbers. */
export function likelyUnit(x: readonly number[]): XUnit {
  const least = x.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const most = x.reduce((a, b) => Math.max(a, b), 0);
  if (most <= 50 && least >= 0.1) return 'um';
  return most > 5000 ? 'cm-1' : 'nm';
}
