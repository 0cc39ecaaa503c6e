import { requireWithin } from '../base/errors.ts';

/** How lenses sit in a rack. */
export interface HolderRule {
  /** Play between the lens's edge and its seat, all round. */
  readonly playMm: number;
  /** Width of the ledge on which the lens's edge rests; this much of the edge stays uncoated. */
  readonly ledgeMm: number;
  /** Wall of the ring around the seat. */
  readonly wallMm: number;
}

/** A common choice for small lenses (common practice, no source). */
export const USUAL_HOLDER: HolderRule = { playMm: 0.1, ledgeMm: 0.6, wallMm: 1.5 };

export interface HolderRing {
  /** Free opening: what of the lens is coated. */
  readonly openingMm: number;
  readonly seatMm: number;
  /** Outer diameter: the pocket in the rack, to be used for nesting. */
  readonly outerMm: number;
}

/**
 * The ring that carries a lens of `diameterMm`; `clearApertureMm` must stay inside the opening.
 * @throws InputError for a value outside its range or a clear aperture that the ledge would cover.
 */
export function holderRing(
  diameterMm: number,
  rule: HolderRule = USUAL_HOLDER,
  clearApertureMm = 0,
): HolderRing {
  requireWithin('diameterMm', diameterMm, 'mm', { min: 0.5, max: 5000 });
  requireWithin('playMm', rule.playMm, 'mm', { min: 0, max: 10 });
  requireWithin('ledgeMm', rule.ledgeMm, 'mm', { min: 0, below: diameterMm / 2 });
  requireWithin('wallMm', rule.wallMm, 'mm', { min: 0, max: 100 });
  const seatMm = diameterMm + 2 * rule.playMm;
  const openingMm = diameterMm - 2 * rule.ledgeMm;
  requireWithin('clearApertureMm', clearApertureMm, 'mm', { min: 0, max: openingMm });
  return { openingMm, seatMm, outerMm: seatMm + 2 * rule.wallMm };
}
