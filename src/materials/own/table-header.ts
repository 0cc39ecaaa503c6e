import { InputError } from '../../base/errors.ts';
import { shown } from '../../base/schema.ts';

export type WavelengthUnit = 'nm' | 'µm' | 'Å';

const UNIT_WORDS: readonly (readonly [WavelengthUnit, RegExp])[] = [
  ['nm', /(^|[^a-z])(nm|nanomet)/i],
  ['µm', /(^|[^a-z])(um|µm|μm|micron|micromet)/i],
  ['Å', /å|Å|angstrom/i],
];

/** Words that name a unit of energy or wavenumber, which a table of n has no place for here. */
const OTHER_UNIT = /(^|[^a-z])ev([^a-z]|$)|cm\s*\^?[-−⁻][1¹]|1\/cm/i;

const COLUMN_WORDS: readonly (readonly ['wavelength' | 'n' | 'k', RegExp])[] = [
  ['wavelength', /^(wl|wave|lambda|λ|nm|um|µm|μm|å)/i],
  ['n', /^(n$|n[^a-z]|re|index)/i],
  ['k', /^(k$|k[^a-z]|ext|im|kappa|κ)/i],
];

/**
 * Which column holds what: by the words above them, else wavelength, n and k in this order.
 * The wavelength comes first in the answer.
 * @param width how many numbers every row has, at least 2.
 * @throws InputError where the words name no wavelength beside n or k.
 */
export function columnsOf(
  header: readonly string[],
  width: number,
): { name: 'wavelength' | 'n' | 'k'; index: number }[] {
  const named = COLUMN_WORDS.flatMap(([name, words]) => {
    const index = header.findIndex((cell, i) => i < width && words.test(cell));
    return index < 0 ? [] : [{ name, index }];
  });
  const distinct = new Set(named.map(({ index }) => index)).size === named.length;
  if (named.length >= 2 && named[0]?.name === 'wavelength' && distinct) return named;
  if (named.length > 0 && named.some(({ name }) => name !== 'wavelength') && header.length >= 2)
    throw new InputError('', `the columns ${shown(header.join(', '))} are not a wavelength with n or k`);
  return [
    { name: 'wavelength' as const, index: 0 },
    { name: 'n' as const, index: 1 },
    ...(width >= 3 ? [{ name: 'k' as const, index: 2 }] : []),
  ];
}

/** @throws InputError where the header names a unit of energy or wavenumber and none of wavelength. */
export function requireWavelengths(header: readonly string[]): void {
  const words = header.join(' ');
  if (OTHER_UNIT.test(words) && !UNIT_WORDS.some(([, pattern]) => pattern.test(words)))
    throw new InputError('', `the header ${shown(words)} names no unit of wavelength; nm, µm or Å is needed`);
}

/**
 * The unit of the wavelengths: from the header, else from their size (up to 50: µm; nm otherwise), which
 * adds a remark.
 */
export function unitOf(
  header: readonly string[],
  wavelengths: readonly number[],
  warnings: string[],
): WavelengthUnit {
  const words = header.join(' ');
  const named = UNIT_WORDS.find(([, pattern]) => pattern.test(words));
  if (named !== undefined) return named[0];
  const most = wavelengths.reduce((a, b) => Math.max(a, b), 0);
  const unit = most <= 50 ? 'µm' : 'nm';
  warnings.push(`No unit is named; the wavelengths up to ${most} are taken as ${unit}.`);
  return unit;
}
