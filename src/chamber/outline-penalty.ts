/** How much a rad of half angle, and a rad of its bend, weighs against the film's relative deviation. */
const SIZE_WEIGHT = 1e-5;
const BEND_WEIGHT = 5e-4;

/**
 * What asks the outline of a sheet to be small and smooth: the product of these rows with its half angles (rad, at `count`
 * points) is to become small. Row i weighs the i-th angle, row `count` + i its second difference; the ends have none.
 * @returns 2 `count` rows of `count` columns, one after the other.
 */
export function outlinePenalty(count: number): Float64Array {
  const rows = new Float64Array(2 * count * count);
  for (let at = 0; at < count; at++) rows[at * count + at] = SIZE_WEIGHT;
  for (let at = 1; at < count - 1; at++) {
    const middle = (count + at) * count + at;
    rows[middle - 1] = BEND_WEIGHT;
    rows[middle] = -2 * BEND_WEIGHT;
    rows[middle + 1] = BEND_WEIGHT;
  }
  return rows;
}
