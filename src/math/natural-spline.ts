import { assert } from '../base/assert.ts';

/**
 * The smooth curve through given points: a cubic between each two, first and second slope continuous, no bend at
 * the ends (C. de Boor, A Practical Guide to Splines, rev. ed. 2001, ch. IV). It may swing a little beyond its points.
 *
 * @param x the abscissae, strictly increasing, at least two. @param y the ordinates, as many.
 * @returns the value at any place; beyond the ends the end's value is held.
 */
export function naturalSpline(x: Float64Array, y: Float64Array): (wanted: number) => number {
  const count = x.length;
  assert(count >= 2 && y.length === count, 'a curve needs as many ordinates as abscissae, at least two');
  const bend = bends(x, y);
  let at = 0;
  return (wanted) => {
    if (wanted <= x[0]!) return y[0]!;
    if (wanted >= x[count - 1]!) return y[count - 1]!;
    while (x[at]! > wanted) at--;
    while (x[at + 1]! < wanted) at++;
    const width = x[at + 1]! - x[at]!;
    const t = (wanted - x[at]!) / width;
    const rest = 1 - t;
    const cubic = rest * (rest * rest - 1) * bend[at]! + t * (t * t - 1) * bend[at + 1]!;
    return rest * y[at]! + t * y[at + 1]! + (width * width * cubic) / 6;
  };
}

/** Second slopes at the points, from the three-term equations of the spline. */
function bends(x: Float64Array, y: Float64Array): Float64Array {
  const count = x.length;
  const bend = new Float64Array(count);
  const above = new Float64Array(count);
  for (let i = 1; i < count - 1; i++) {
    const before = x[i]! - x[i - 1]!;
    const after = x[i + 1]! - x[i]!;
    const pivot = 2 * (before + after) - before * above[i - 1]!;
    above[i] = after / pivot;
    const turn = (y[i + 1]! - y[i]!) / after - (y[i]! - y[i - 1]!) / before;
    bend[i] = (6 * turn - before * bend[i - 1]!) / pivot;
  }
  for (let i = count - 2; i > 0; i--) bend[i]! -= above[i]! * bend[i + 1]!;
  return bend;
}
