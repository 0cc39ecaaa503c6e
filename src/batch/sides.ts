import type { Batch, Side, Surface } from './document.ts';

/** One side of the lens that gets a coating. `own` is false for a back that is coated as the front. */
export interface CoatedSide {
  readonly side: Side;
  readonly surface: Surface;
  readonly own: boolean;
}

/** The sides that are coated, front first. */
export function coatedSides({ surfaces }: Batch): CoatedSide[] {
  const front: CoatedSide = { side: 'front', surface: surfaces.front, own: true };
  if (surfaces.back === 'uncoated') return [front];
  if (surfaces.back === 'same') return [front, { side: 'back', surface: surfaces.front, own: false }];
  return [front, { side: 'back', surface: surfaces.back, own: true }];
}

/**
 * The radius of the face that is turned to the vapour, positive where it bulges towards it; undefined for
 * a plane. By the convention of lens drawings a convex front has a positive, a convex back a negative radius.
 */
export function convexRadiusMm({ order: { lens } }: Batch, side: Side): number | undefined {
  const radius = side === 'front' ? lens.frontRadiusMm : lens.backRadiusMm;
  if (radius === undefined) return undefined;
  return side === 'front' ? radius : -radius;
}
