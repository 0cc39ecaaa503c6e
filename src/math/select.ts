/**
 * Puts the value that would stand at place `k` (from 0) of the sorted list there, smaller ones before and larger
 * ones behind it, and returns it (C. A. R. Hoare's FIND, Commun. ACM 4, 321, 1961). Changes the order of `values`.
 * Takes time in proportion to the length, on average.
 */
export function selectInPlace(values: Float64Array, k: number): number {
  let left = 0;
  let right = values.length - 1;
  while (left < right) {
    const middle = (left + right) >> 1;
    // The median of three keeps ordered lists from being the slow case.
    if (values[middle]! < values[left]!) swap(values, middle, left);
    if (values[right]! < values[left]!) swap(values, right, left);
    if (values[right]! < values[middle]!) swap(values, right, middle);
    const pivot = values[middle]!;
    let i = left;
    let j = right;
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i <= j) swap(values, i++, j--);
    }
    if (k <= j) right = j;
    else if (k >= i) left = i;
    else break;
  }
  return values[k]!;
}

function swap(values: Float64Array, i: number, j: number): void {
  const kept = values[i]!;
  values[i] = values[j]!;
  values[j] = kept;
}

/**
 * The percentile `percent` (0..100) of values in any order, interpolated between ranks as `percentile` does; changes
 * the order of `values`, which holds at least one.
 */
export function percentileInPlace(values: Float64Array, percent: number): number {
  const place = ((values.length - 1) * percent) / 100;
  const lower = Math.floor(place);
  const low = selectInPlace(values, lower);
  if (lower === place) return low;
  let next = Number.POSITIVE_INFINITY;
  for (let i = lower + 1; i < values.length; i++) next = Math.min(next, values[i]!);
  return low + (place - lower) * (next - low);
}
