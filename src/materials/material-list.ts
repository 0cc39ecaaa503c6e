import { SPECTRAL_LINE_NM } from '../base/constants.ts';
import { requireWithin } from '../base/errors.ts';
import { allMaterials } from './library.ts';
import { isInRange, materialCurves } from './material-curves.ts';
import type { MaterialRecord } from './record.ts';

/** Index at one wavelength that a person recognises the material by. */
export interface HeadlineIndex {
  readonly wavelengthNm: number;
  readonly n: number;
  readonly k: number;
}

/** n and k along the wavelength, for a chart. */
export interface MaterialCurve {
  readonly wavelengthNm: Float64Array;
  readonly n: Float64Array;
  readonly k: Float64Array;
  readonly inRange: boolean[];
}

/** The shop's own materials and those of the library that none of them replaces, in order of the names. */
export function listMaterials(own: readonly MaterialRecord[] = []): readonly MaterialRecord[] {
  const mine = new Set(own.map((record) => record.id));
  const others = allMaterials().filter((record) => !mine.has(record.id));
  return [...own, ...others].sort((a, b) => a.name.localeCompare(b.name, 'en'));
}

/** The index at the d line, else at 1064 nm, else at 10.6 µm, else in the middle of the range. */
export function headlineIndex(record: MaterialRecord): HeadlineIndex {
  const usual = [SPECTRAL_LINE_NM.d, SPECTRAL_LINE_NM.ndYag, 10_600];
  const [from, to] = record.rangeNm;
  const wavelengthNm = usual.find((nm) => isInRange(record, nm)) ?? (from + to) / 2;
  const { n, k } = materialCurves(record);
  return { wavelengthNm, n: n(wavelengthNm), k: k(wavelengthNm) };
}

/**
 * Samples a material for a chart, equally spaced in the wavelength's logarithm, both ends met exactly.
 * @param fromNm above 0.
 * @param toNm above `fromNm`.
 * @param points 2..20000.
 * @throws InputError where a limit is broken.
 */
export function sampleMaterial(
  record: MaterialRecord,
  fromNm: number = record.rangeNm[0],
  toNm: number = record.rangeNm[1],
  points = 401,
): MaterialCurve {
  requireWithin('fromNm', fromNm, 'nm', { min: 1, max: 1e6 });
  requireWithin('toNm', toNm, 'nm', { above: fromNm, max: 1e6 });
  requireWithin('points', points, '', { min: 2, max: 20_000 });
  const last = Math.floor(points) - 1;
  const wavelengthNm = Float64Array.from({ length: last + 1 }, (_, i) =>
    i === last ? toNm : fromNm * (toNm / fromNm) ** (i / last),
  );
  const { n, k } = materialCurves(record);
  return {
    wavelengthNm,
    n: wavelengthNm.map(n),
    k: wavelengthNm.map(k),
    inRange: Array.from(wavelengthNm, (nm) => isInRange(record, nm)),
  };
}
