/**
 * Adds C^T C to the lower triangle of `matrix` (row-major, count × count). Column i of C stands in `columns` from
 * i * stride on and has `length` entries. Two columns meet two at a time, so that each number read serves twice.
 */
export function addGram(
  columns: Float64Array,
  stride: number,
  length: number,
  count: number,
  matrix: Float64Array,
): void {
  for (let i = 0; i < count; i += 2) {
    const hasPair = i + 1 < count;
    const first = i * stride;
    const second = hasPair ? first + stride : first;
    for (let j = 0; j <= i; j += 2) {
      const left = j * stride;
      const right = j + 1 < count ? left + stride : left;
      let firstLeft = 0;
      let firstRight = 0;
      let secondLeft = 0;
      let secondRight = 0;
      for (let k = 0; k < length; k++) {
        const a = columns[first + k]!;
        const b = columns[second + k]!;
        const c = columns[left + k]!;
        const d = columns[right + k]!;
        firstLeft += a * c;
        firstRight += a * d;
        secondLeft += b * c;
        secondRight += b * d;
      }
      const at = i * count + j;
      matrix[at]! += firstLeft;
      if (j < i) matrix[at + 1]! += firstRight;
      if (!hasPair) continue;
      matrix[at + count]! += secondLeft;
      matrix[at + count + 1]! += secondRight;
    }
  }
}
