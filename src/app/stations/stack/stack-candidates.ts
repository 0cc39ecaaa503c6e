import type { Batch, Layer, Side } from '../../../batch/document.ts';
import { IndexBook } from '../../../batch/plan/index-of.ts';
import type { SurfacePlan } from '../../../batch/plan/plan-types.ts';
import { planSurface } from '../../../batch/plan/surface-plan.ts';
import { startingStacks } from '../../../design/starting-stacks.ts';
import { surfaceOf } from '../order/requirement-edits.ts';

/** A stack to compare with others and to take or leave. */
export interface Candidate {
  readonly name: string;
  readonly layers: readonly Omit<Layer, 'id'>[];
  /** The side's plan with these layers. */
  readonly plan: SurfacePlan;
}

/** Shown at most, and of one kind. */
const MOST = 8;
const MOST_OF_A_KIND = 2;

/** A stack on the batch's glass, held against the side's requirements. */
export function candidate(
  batch: Batch,
  side: Side,
  name: string,
  layers: readonly Omit<Layer, 'id'>[],
  book = new IndexBook(batch.materials),
): Candidate {
  const surface = surfaceOf(batch, side) ?? batch.surfaces.front;
  const withIds = layers.map((layer, index) => ({ id: `c${index + 1}`, ...layer }));
  const plan = { side, own: true, ...planSurface(batch, { surface: { ...surface, layers: withIds } }, book) };
  return { name, layers, plan };
}

/**
 * The stacks that closed forms give from the materials at hand, best first. `referenceNm` is where quarter waves
 * are counted. They are as the formulas have them; refining comes after one has been taken.
 */
export function closedFormStacks(
  batch: Batch,
  side: Side,
  pool: readonly string[],
  referenceNm: number,
): Candidate[] {
  const book = new IndexBook(batch.materials);
  const surface = surfaceOf(batch, side) ?? batch.surfaces.front;
  const place = {
    incidentIndex: book.indexAt(surface.incident, referenceNm),
    substrateIndex: book.indexAt(batch.order.lens.substrate, referenceNm),
    wavelengthNm: referenceNm,
  };
  const stacks = startingStacks(
    pool.map((id) => ({ id, index: book.of(id) })),
    place,
  );
  const sorted = stacks
    .map(({ kind, name, layers }) => ({ kind, ...candidate(batch, side, name, layers, book) }))
    .sort((a, b) => shortfall(a.plan) - shortfall(b.plan));
  const seen = new Map<string, number>();
  return sorted
    .filter(({ kind }) => {
      const count = (seen.get(kind) ?? 0) + 1;
      seen.set(kind, count);
      return count <= MOST_OF_A_KIND;
    })
    .slice(0, MOST);
}

/** How far the requirements are from being met, relative to their limits, the worst of them; below zero: all are met. */
export function shortfall({ requirements }: SurfacePlan): number {
  return requirements.reduce(
    (worst, { marginPercent, limitPercent }) =>
      Math.max(worst, -marginPercent / Math.max(limitPercent, 0.01)),
    Number.NEGATIVE_INFINITY,
  );
}
