/** Points in ascending order without doubles. */
export interface OrderedPoints {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly warnings: readonly string[];
}

/**
 * Sorts points by x and makes one of those that share an x (the mean of their y). A descending axis is nothing
 * to speak of; a jumbled one and doubles are said in `warnings`.
 */
export function orderPoints(x: readonly number[], y: readonly number[]): OrderedPoints {
  const order = x.map((_, i) => i).sort((a, b) => x[a]! - x[b]! || a - b);
  const warnings: string[] = [];
  if (!runsOneWay(x)) warnings.push('The spectral axis goes back and forth; its points were sorted.');

  const outX: number[] = [];
  const outY: number[] = [];
  let doubles = 0;
  let widest = 0;
  for (let from = 0; from < order.length; ) {
    let to = from + 1;
    while (to < order.length && x[order[to]!] === x[order[from]!]) to++;
    const shared = order.slice(from, to).map((i) => y[i]!);
    outX.push(x[order[from]!]!);
    outY.push(shared.reduce((sum, value) => sum + value, 0) / shared.length);
    if (shared.length > 1) {
      doubles++;
      widest = Math.max(widest, Math.max(...shared) - Math.min(...shared));
    }
    from = to;
  }
  if (doubles > 0) {
    const points = doubles === 1 ? 'One wavelength stands' : `${doubles} wavelengths stand`;
    const what =
      widest === 0
        ? 'with the same value'
        : `with values up to ${Number((100 * widest).toPrecision(3))} % apart; their mean was taken`;
    warnings.push(`${points} in the file more than once, ${what}.`);
  }
  return { x: Float64Array.from(outX), y: Float64Array.from(outY), warnings };
}

/** Whether a list rises or falls throughout; equal neighbours are allowed. */
export function runsOneWay(x: readonly number[]): boolean {
  const rises = x.every((value, i) => i === 0 || value >= x[i - 1]!);
  return rises || x.every((value, i) => i === 0 || value <= x[i - 1]!);
}
