import { atPath, InputError } from '../base/errors.ts';
import { type IndexCurves, indexCurves } from './dispersion.ts';
import type { MaterialRecord } from './record.ts';
import { variantCurves } from './variant.ts';

const known = new WeakMap<MaterialRecord, IndexCurves>();

/**
 * n and k of a material at a wavelength in nm. **Outside the material's range the value at the nearer end is
 * held** — a formula is never carried on towards its poles — and `isInRange` says so.
 */
export function materialCurves(record: MaterialRecord): IndexCurves {
  const found = known.get(record);
  if (found !== undefined) return found;
  const [from, to] = record.rangeNm;
  const inside = curvesOf(record);
  const held = (nm: number) => Math.min(Math.max(nm, from), to);
  const curves = { n: (nm: number) => inside.n(held(nm)), k: (nm: number) => inside.k(held(nm)) };
  known.set(record, curves);
  return curves;
}

/** Whether the data of a material reach to the wavelength; both ends belong to the range. */
export function isInRange(record: MaterialRecord, wavelengthNm: number): boolean {
  return wavelengthNm >= record.rangeNm[0] && wavelengthNm <= record.rangeNm[1];
}

/** Whether the data of a material say anything of its extinction; where they do not, k is taken as 0. */
export function hasExtinction({ dispersion, extinction, variant }: MaterialRecord): boolean {
  if (extinction !== undefined || (variant?.addedK ?? 0) > 0 || dispersion.form === 'tauc-lorentz')
    return true;
  return dispersion.form === 'table' && dispersion.k !== undefined;
}

function curvesOf(record: MaterialRecord): IndexCurves {
  try {
    const curves = indexCurves(record.dispersion, record.extinction);
    return record.variant === undefined ? curves : variantCurves(curves, record.variant);
  } catch (error) {
    throw error instanceof InputError ? atPath('dispersion', error) : error;
  }
}
