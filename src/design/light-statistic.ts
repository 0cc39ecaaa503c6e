import { quantityOf } from './light-channel.ts';
import type { Requirement } from './requirement.ts';

/** Reflectance and transmittance (0..1), one value a wavelength. */
export interface Light {
  readonly R: Float64Array;
  readonly T: Float64Array;
}

/**
 * A requirement's statistic (0..1) of sampled light at one angle; `weights` are those of the mean over the band
 * (`meanWeights`). Extrema are refined by the parabola through the outermost point and its neighbours, and
 * nothing is allocated.
 */
export function lightStatistic(
  { quantity, statistic }: Pick<Requirement, 'quantity' | 'statistic'>,
  { R, T }: Light,
  weights: Float64Array,
): number {
  const at = (i: number) => quantityOf(quantity, R[i]!, T[i]!);
  if (statistic === 'mean') {
    let sum = 0;
    for (let i = 0; i < weights.length; i++) sum += weights[i]! * at(i);
    return sum;
  }
  const sign = statistic === 'max' ? 1 : -1;
  let outermost = 0;
  for (let i = 1; i < weights.length; i++) if (sign * at(i) > sign * at(outermost)) outermost = i;
  const middle = at(outermost);
  if (outermost === 0 || outermost === weights.length - 1) return middle;
  const bend = at(outermost - 1) - 2 * middle + at(outermost + 1);
  const rise = (at(outermost + 1) - at(outermost - 1)) / 2;
  return bend === 0 ? middle : middle - (rise * rise) / (2 * bend);
}
