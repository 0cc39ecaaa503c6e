import { assert } from '../base/assert.ts';
import { intervalOf } from './monotone-cubic.ts';

/**
 * The straight line between the two neighbours of `wanted`. `x` ascends strictly, has at least two values
 * and encloses `wanted`; `y` has as many.
 */
export function interpolateLinearly(x: Float64Array, y: Float64Array, wanted: number): number {
  const last = x.length - 1;
  assert(last >= 1 && wanted >= x[0]! && wanted <= x[last]!, 'a value is interpolated only between points');
  const i = Math.min(intervalOf(x, wanted), last - 1);
  const fraction = (wanted - x[i]!) / (x[i + 1]! - x[i]!);
  return fraction === 1 ? y[i + 1]! : y[i]! + fraction * (y[i + 1]! - y[i]!);
}
