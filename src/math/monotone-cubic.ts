import { assert } from '../base/assert.ts';

/** A piecewise cubic through given points that never overshoots them. */
export interface MonotoneCubic {
  /** The value at `x`; beyond the ends the end's value is held. */
  at(x: number): number;
}

/**
 * The cubic Hermite interpolant whose slopes keep every stretch between two points monotone: where the
 * points rise the curve rises, and a highest point stays the highest. Two points give a straight line, one
 * a constant.
 *
 * M. Steffen, A simple method for monotonic interpolation in one dimension, Astron. Astrophys. 239,
 * 443-450 (1990), eqs. 2-11 with the end slopes of its sec. 2.2.
 *
 * @param x the abscissae, strictly increasing, at least one.
 * @param y the ordinates, as many, finite.
 */
export function monotoneCubic(x: Float64Array, y: Float64Array): MonotoneCubic {
  const count = x.length;
  assert(count >= 1 && y.length === count, 'a curve needs as many ordinates as abscissae, at least one');
  const slope = steffenSlopes(x, y);
  const lastStart = count - 2;
  return {
    at(wanted) {
      if (count === 1 || wanted <= x[0]!) return y[0]!;
      if (wanted >= x[count - 1]!) return y[count - 1]!;
      const i = Math.min(intervalOf(x, wanted), lastStart);
      const width = x[i + 1]! - x[i]!;
      const t = (wanted - x[i]!) / width;
      const rest = 1 - t;
      return (
        y[i]! * (1 + 2 * t) * rest * rest +
        y[i + 1]! * t * t * (1 + 2 * rest) +
        width * t * rest * (slope[i]! * rest - slope[i + 1]! * t)
      );
    },
  };
}

/** The index i of the stretch with x[i] <= wanted < x[i + 1]; `wanted` lies within the ends. */
export function intervalOf(x: Float64Array, wanted: number): number {
  let low = 0;
  let high = x.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >>> 1;
    if (x[middle]! <= wanted) low = middle;
    else high = middle;
  }
  return low;
}

function steffenSlopes(x: Float64Array, y: Float64Array): Float64Array {
  const count = x.length;
  const slope = new Float64Array(count);
  if (count < 2) return slope;
  const width = (i: number) => x[i + 1]! - x[i]!;
  const secant = (i: number) => (y[i + 1]! - y[i]!) / width(i);
  for (let i = 1; i < count - 1; i++) {
    const [before, after] = [secant(i - 1), secant(i)];
    if (before * after <= 0) continue;
    const parabola = (before * width(i) + after * width(i - 1)) / (width(i - 1) + width(i));
    slope[i] = 2 * Math.sign(after) * Math.min(Math.abs(before), Math.abs(after), 0.5 * Math.abs(parabola));
  }
  if (count === 2) return slope.fill(secant(0));
  slope[0] = endSlope(secant(0), secant(1), width(0), width(1));
  slope[count - 1] = endSlope(secant(count - 2), secant(count - 3), width(count - 2), width(count - 3));
  return slope;
}

/** The parabola's slope at an end, limited so that the last stretch stays monotone (Steffen, sec. 2.2). */
function endSlope(near: number, far: number, nearWidth: number, farWidth: number): number {
  const ratio = nearWidth / (nearWidth + farWidth);
  const parabola = near * (1 + ratio) - far * ratio;
  if (parabola * near <= 0) return 0;
  return Math.abs(parabola) > 2 * Math.abs(near) ? 2 * near : parabola;
}
