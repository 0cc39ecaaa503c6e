import { requireWithin } from '../base/errors.ts';

/** Where the centre of a part lies in the plane of its rack, from the rack's centre; x to the right, y up. */
export interface Place {
  readonly xMm: number;
  readonly yMm: number;
  /** Turn of the part about its own axis, counter-clockwise (0 for round parts). */
  readonly angleDeg: number;
}

/** A round part of the rack on which no part may lie: a screw, a handle, a witness. */
export interface KeepOut {
  readonly xMm: number;
  readonly yMm: number;
  readonly diameterMm: number;
}

/** A place as the kernels of nesting carry it. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** The two figures to which every nesting of round parts comes down, and the zones that stay free. */
export interface Disc {
  /** Every centre stays within this distance of the rack's centre. */
  readonly reach: number;
  /** No two centres are closer than this. */
  readonly spacing: number;
  /** A centre stays at least `clearance` from (x, y). */
  readonly zones: readonly { readonly x: number; readonly y: number; readonly clearance: number }[];
}

/** Relative slack that rounding may use up: far below what any workshop can measure. */
export const ROUNDING = 1e-12;

/** Whether a centre may lie at the point, as far as rack and zones go. */
export function isFree(disc: Disc, point: Point): boolean {
  if (Math.hypot(point.x, point.y) > disc.reach * (1 + ROUNDING) + ROUNDING * disc.spacing) return false;
  return disc.zones.every(
    (zone) => Math.hypot(point.x - zone.x, point.y - zone.y) >= zone.clearance * (1 - ROUNDING),
  );
}

/** @throws InputError for a zone outside its range. */
export function requireKeepOut(keepOut: readonly KeepOut[]): void {
  keepOut.forEach((zone, index) => {
    requireWithin(`keepOut[${index}].xMm`, zone.xMm, 'mm', { min: -5000, max: 5000 });
    requireWithin(`keepOut[${index}].yMm`, zone.yMm, 'mm', { min: -5000, max: 5000 });
    requireWithin(`keepOut[${index}].diameterMm`, zone.diameterMm, 'mm', { above: 0, max: 5000 });
  });
}
