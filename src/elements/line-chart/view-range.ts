import type { LineSeries, ViewRange } from './line-chart-data.ts';

/** The narrowest view, as a share of the whole: beyond it a chart shows nothing but two samples. */
const NARROWEST = 1 / 500;

/** The stretch of x that all curves cover together; undefined without data. */
export function wholeRange(series: readonly LineSeries[]): ViewRange | undefined {
  let min = Number.POSITIVE_INFINITY;
  let max = Number.NEGATIVE_INFINITY;
  for (const { x } of series) {
    if (x.length === 0) continue;
    min = Math.min(min, x[0]!);
    max = Math.max(max, x[x.length - 1]!);
  }
  return min <= max ? { min, max } : undefined;
}

/** The view made `factor` times as wide about `at`, within `whole`; undefined where that is all of it. */
export function zoomed(view: ViewRange, whole: ViewRange, at: number, factor: number): ViewRange | undefined {
  const width = Math.max((view.max - view.min) * factor, (whole.max - whole.min) * NARROWEST);
  if (width >= whole.max - whole.min) return undefined;
  const share = (at - view.min) / (view.max - view.min);
  return within({ min: at - share * width, max: at + (1 - share) * width }, whole);
}

/** The view moved by `share` of its own width, stopping at the ends of `whole`. */
export function panned(view: ViewRange, whole: ViewRange, share: number): ViewRange {
  const move = share * (view.max - view.min);
  return within({ min: view.min + move, max: view.max + move }, whole);
}

function within(view: ViewRange, whole: ViewRange): ViewRange {
  const width = view.max - view.min;
  const min = Math.min(Math.max(view.min, whole.min), whole.max - width);
  return { min, max: min + width };
}
