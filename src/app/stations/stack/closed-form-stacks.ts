import type { Batch, Side } from '../../../batch/document.ts';
import { IndexBook } from '../../../batch/plan/index-of.ts';
import { type StartingStack, startingStacks } from '../../../design/starting-stacks.ts';
import { surfaceOf } from '../order/requirement-edits.ts';
import { type Candidate, candidatesFrom, shortfall, sketchPlan } from './candidate.ts';

/** Shown at most, and of one kind. */
const MOST = 6;
const MOST_OF_A_KIND = 2;

const NAMES: Readonly<Record<StartingStack['kind'], string>> = {
  'quarter-wave': 'Single quarter wave',
  'two-layer-zero': 'Two layers, zero at one wavelength',
  'quarter-half-quarter': 'Quarter, half, quarter',
  'equivalent-period': 'Quarter, half, quarter with its inner index made of two materials',
  'four-layer-thin-pair': 'Four layers with a thin inner pair',
};

/**
 * Stacks that closed forms give from the materials at hand, held against the side's requirements, best first.
 * `referenceNm` is where the quarter waves are counted.
 */
export function closedFormStacks(
  batch: Batch,
  side: Side,
  pool: readonly string[],
  referenceNm: number,
): Candidate[] {
  const surface = surfaceOf(batch, side) ?? batch.surfaces.front;
  const book = new IndexBook(batch.materials);
  const stacks = startingStacks(
    pool.map((id) => ({ id, index: book.of(id) })),
    {
      incidentIndex: book.indexAt(surface.incident, referenceNm),
      substrateIndex: book.indexAt(batch.order.lens.substrate, referenceNm),
      wavelengthNm: referenceNm,
    },
  );
  const rated = stacks
    .map((stack) => ({ stack, missing: shortfall(sketchPlan(batch, side, stack, book)) }))
    .sort((one, other) => one.missing - other.missing);
  const seen = new Map<string, number>();
  const best = rated.filter(({ stack: { kind } }) => {
    const count = (seen.get(kind) ?? 0) + 1;
    seen.set(kind, count);
    return count <= MOST_OF_A_KIND;
  });
  return candidatesFrom(
    batch,
    side,
    best.slice(0, MOST).map(({ stack: { kind, source, layers } }) => ({
      form: { kind: NAMES[kind], source },
      layers,
    })),
  );
}
