import { InputError } from '../base/errors.ts';

/**
 * The reflectance of the front surface alone, from that of a clear plate whose back has the known reflectance:
 * R = (R1 + R2 − 2 R1 R2) / (1 − R1 R2) without absorption (textbook sum of the incoherent reflections), solved
 * for R1. All are fractions, one a wavelength.
 * Noise may make it slightly negative, which is kept.
 * @throws InputError where the back is no fraction below 1 or the lists differ in length.
 */
export function removeBackSide(measured: Float64Array, back: Float64Array): Float64Array {
  if (measured.length !== back.length)
    throw new InputError('back', `there are ${back.length} values for ${measured.length} wavelengths`);
  return measured.map((total, i) => {
    const behind = back[i]!;
    if (!(behind >= 0 && behind < 1))
      throw new InputError(`back[${i}]`, `${behind} is not from 0 to below 1`);
    return (total - behind) / (1 - 2 * behind + total * behind);
  });
}
