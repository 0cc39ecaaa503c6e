import { solvePositiveDefinite } from './cholesky.ts';

/**
 * The inverse of a symmetric positive definite matrix (row-major, size × size; the lower triangle is read), or
 * `undefined` where it is not positive definite.
 */
export function invertPositiveDefinite(matrix: Float64Array, size: number): Float64Array | undefined {
  const inverse = new Float64Array(size * size);
  for (let column = 0; column < size; column++) {
    const work = matrix.slice();
    const unit = new Float64Array(size);
    unit[column] = 1;
    if (!solvePositiveDefinite(work, unit, size)) return undefined;
    for (let row = 0; row < size; row++) inverse[row * size + column] = unit[row]!;
  }
  return inverse;
}
