/**
 * In which share of the runs each lens is good.
 * @param runs for every run, which lenses are good.
 */
export function shareOfLenses(runs: readonly (readonly boolean[])[], lenses: number): Float64Array {
  const count = new Float64Array(lenses);
  for (const good of runs) for (let lens = 0; lens < lenses; lens++) count[lens]! += Number(good[lens]);
  return count.map((good) => good / runs.length);
}

/** In which share of the runs each lens is good on all sides: the sides' runs are independent, a lens keeps its place. */
export function allSides(shares: readonly Float64Array[]): Float64Array {
  const [first, ...further] = shares;
  return (first ?? new Float64Array(0)).map((share, lens) =>
    further.reduce((all, side) => all * side[lens]!, share),
  );
}
