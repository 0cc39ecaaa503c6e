/** Index of the last element of ascending `x` that is not above `at`; −1 where all are above. */
export function lastNotAbove(x: ArrayLike<number>, at: number): number {
  let low = 0;
  let high = x.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (x[middle]! <= at) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/** `y` at `at`, linear between samples; undefined outside them and beside gaps. */
export function sampleAt(x: ArrayLike<number>, y: ArrayLike<number>, at: number): number | undefined {
  const left = lastNotAbove(x, at);
  if (left < 0) return undefined;
  if (x[left] === at || left === x.length - 1) return x[left] === at ? finite(y[left]) : undefined;
  const part = (at - x[left]!) / (x[left + 1]! - x[left]!);
  return finite(y[left]! + part * (y[left + 1]! - y[left]!));
}

/** The sample of ascending `x` that lies nearest to `at`; undefined where there is none. */
export function nearestX(x: ArrayLike<number>, at: number): number | undefined {
  if (x.length === 0) return undefined;
  const left = Math.max(0, lastNotAbove(x, at));
  const right = Math.min(x.length - 1, left + 1);
  return Math.abs(at - x[left]!) <= Math.abs(x[right]! - at) ? x[left] : x[right];
}

function finite(value: number | undefined): number | undefined {
  return value !== undefined && Number.isFinite(value) ? value : undefined;
}
