/**
 * Places for labels: as near to the ascending `wanted` places as they can be with `gap` between neighbours
 * (least squares by pooling neighbours that collide), then moved as a whole to begin no lower than `from` and,
 * where there is room, end no higher than `to`.
 */
export function spread(wanted: readonly number[], gap: number, from: number, to: number): number[] {
  const pools: { sum: number; count: number }[] = [];
  wanted.forEach((place, i) => {
    pools.push({ sum: place - i * gap, count: 1 });
    while (pools.length > 1) {
      const [before, last] = [pools.at(-2)!, pools.at(-1)!];
      if (before.sum / before.count <= last.sum / last.count) break;
      pools.splice(-2, 2, { sum: before.sum + last.sum, count: before.count + last.count });
    }
  });
  const latest = to - gap * (wanted.length - 1);
  return pools
    .flatMap(({ sum, count }) => new Array<number>(count).fill(sum / count))
    .map((place, i) => Math.max(Math.min(place, latest), from) + i * gap);
}
