import { InputError } from '../base/errors.ts';
import { invertPositiveDefinite } from '../math/inverse.ts';

/**
 * Smooths a spectrum by a running parabola over `points` neighbours (odd, from 5), uneven spacing and the ends
 * included (A. Savitzky, M. J. E. Golay, Anal. Chem. 36, 1627, 1964, generalised to any spacing). A parabola comes
 * out unchanged.
 * @throws InputError where `points` is even, below 5 or more than there are.
 */
export function smoothSpectrum(
  wavelengthNm: Float64Array,
  values: Float64Array,
  points: number,
): Float64Array {
  if (!Number.isInteger(points) || points < 5 || points % 2 === 0)
    throw new InputError('points', `${points} is not an odd whole number from 5`);
  if (points > values.length)
    throw new InputError('points', `${points} is above ${values.length}, the number of wavelengths`);
  return values.map((_, i) => {
    const first = Math.min(Math.max(0, i - (points - 1) / 2), values.length - points);
    return parabolaAt(wavelengthNm, values, first, points, wavelengthNm[i]!);
  });
}

function parabolaAt(x: Float64Array, y: Float64Array, first: number, points: number, centre: number): number {
  const scale = x[first + points - 1]! - x[first]!;
  const normal = new Float64Array(9);
  const right = new Float64Array(3);
  for (let j = first; j < first + points; j++) {
    const t = (x[j]! - centre) / scale;
    const powers = [1, t, t * t];
    for (let row = 0; row < 3; row++) {
      right[row]! += powers[row]! * y[j]!;
      for (let column = 0; column < 3; column++) normal[3 * row + column]! += powers[row]! * powers[column]!;
    }
  }
  const inverse = invertPositiveDefinite(normal, 3);
  if (inverse === undefined) throw new InputError('wavelengthNm', 'the wavelengths are not all different');
  return inverse[0]! * right[0]! + inverse[1]! * right[1]! + inverse[2]! * right[2]!;
}
