import { requireWithin } from '../base/errors.ts';

/**
 * The value below which `percent` of a sample lies, interpolated linearly between the ordered values (definition 7 of
 * R. J. Hyndman & Y. Fan, Am. Stat. 50, 361-365, 1996).
 * @param sorted ascending, at least one value. @param percent from 0 to 100.
 */
export function percentile(sorted: Float64Array, percent: number): number {
  requireWithin('sorted', sorted.length, 'values', { min: 1 });
  requireWithin('percent', percent, '%', { min: 0, max: 100 });
  const place = ((sorted.length - 1) * percent) / 100;
  const lower = Math.floor(place);
  const upper = Math.min(lower + 1, sorted.length - 1);
  return sorted[lower]! + (place - lower) * (sorted[upper]! - sorted[lower]!);
}
