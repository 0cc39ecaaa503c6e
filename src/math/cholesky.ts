/**
 * Solves A x = b for a symmetric positive definite matrix of the leading `size` rows and columns.
 * `matrix` is row-major with `stride` entries a row; its lower triangle is overwritten by the Cholesky factor.
 * `vector` holds b on entry and x on return. Returns false, with both spoiled, where A is not positive definite.
 */
export function solvePositiveDefinite(
  matrix: Float64Array,
  vector: Float64Array,
  size: number,
  stride = size,
): boolean {
  for (let column = 0; column < size; column++) {
    const diagonalAt = column * stride + column;
    let diagonal = matrix[diagonalAt]!;
    for (let k = 0; k < column; k++) diagonal -= matrix[column * stride + k]! ** 2;
    if (!(diagonal > 0)) return false;
    const root = Math.sqrt(diagonal);
    matrix[diagonalAt] = root;
    for (let row = column + 1; row < size; row++) {
      let sum = matrix[row * stride + column]!;
      for (let k = 0; k < column; k++) sum -= matrix[row * stride + k]! * matrix[column * stride + k]!;
      matrix[row * stride + column] = sum / root;
    }
  }
  for (let row = 0; row < size; row++) {
    let sum = vector[row]!;
    for (let k = 0; k < row; k++) sum -= matrix[row * stride + k]! * vector[k]!;
    vector[row] = sum / matrix[row * stride + row]!;
  }
  for (let row = size - 1; row >= 0; row--) {
    let sum = vector[row]!;
    for (let k = row + 1; k < size; k++) sum -= matrix[k * stride + row]! * vector[k]!;
    vector[row] = sum / matrix[row * stride + row]!;
  }
  return true;
}
