import type { LineSeries } from './line-chart-data.ts';

/** The curves but for ghosts that lie where their curve still is: what an edit has left alone needs no trace. */
export function withoutStillGhosts(series: readonly LineSeries[]): readonly LineSeries[] {
  if (!series.some(({ ghost }) => ghost)) return series;
  const now = series.filter(({ ghost }) => !ghost);
  const isStill = (ghost: LineSeries) =>
    now.some(({ name, x, y }) => name === ghost.name && alike(x, ghost.x) && alike(y, ghost.y));
  return series.filter((item) => !item.ghost || !isStill(item));
}

function alike(one: ArrayLike<number>, other: ArrayLike<number>): boolean {
  if (one === other) return true;
  if (one.length !== other.length) return false;
  for (let at = 0; at < one.length; at += 1) if (!Object.is(one[at], other[at])) return false;
  return true;
}
