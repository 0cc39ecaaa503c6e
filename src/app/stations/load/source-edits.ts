import { listed } from '../../../base/format.ts';
import type { Batch } from '../../../batch/document.ts';
import type { BatchChange } from '../../bench.ts';

/** A further gun where there is most room between the others, at their usual distance. */
export function oneMoreSource({ chamber }: Batch): BatchChange {
  const { sources } = chamber;
  const names = new Set(sources.map(({ id }) => id));
  let number = sources.length + 1;
  while (names.has(`source-${number}`)) number++;
  const id = `source-${number}`;
  return {
    name: `Source ${id} added`,
    recipe: (draft) =>
      void draft.chamber.sources.push({
        id,
        kind: 'e-beam',
        offsetMm: sources.at(-1)?.offsetMm ?? 200,
        azimuthDeg: widestGapDeg(sources.map(({ azimuthDeg }) => azimuthDeg)),
        exponent: 2,
        pockets: 1,
        pocketCm3: 10,
      }),
  };
}

/**
 * The source goes with its own shields. What it gave together with another comes from that alone; the rest from the first source
 * that is left.
 */
export function withoutSource(batch: Batch, id: string): BatchChange {
  const heir = batch.chamber.sources.find((source) => source.id !== id)?.id ?? id;
  const moved = Object.entries(batch.process.materials).flatMap(([material, { source, partner }]) => {
    if (source === id) return [{ material, to: partner?.source ?? heir }];
    return partner?.source === id ? [{ material, to: source }] : [];
  });
  const words = moved.map(({ material, to }) => `${material} from ${to}`);
  return {
    name: `Source ${id} removed${moved.length === 0 ? '' : `; ${listed(words)}`}`,
    recipe: (draft) => {
      draft.chamber.sources = draft.chamber.sources.filter((source) => source.id !== id);
      for (const { material, to } of moved) {
        const settings = draft.process.materials[material]!;
        settings.source = to;
        delete settings.partner;
      }
      const left = (draft.chamber.shields ?? []).filter(({ source }) => source !== id);
      if (left.length > 0) draft.chamber.shields = left;
      else delete draft.chamber.shields;
    },
  };
}

/** The middle of the widest gap between directions, −180° to 180°. */
function widestGapDeg(azimuths: readonly number[]): number {
  const sorted = azimuths.map((azimuth) => ((azimuth % 360) + 360) % 360).toSorted((a, b) => a - b);
  const gaps = sorted.map((from, index) => ({
    from,
    width: (sorted[index + 1] ?? sorted[0]! + 360) - from,
  }));
  const widest = gaps.reduce((best, gap) => (gap.width > best.width ? gap : best));
  const middle = Math.round(widest.from + widest.width / 2);
  return middle > 180 ? middle - 360 : middle;
}
