import { USUAL_HOLDER } from '../chamber/holder.ts';
import type { Batch, Lens, OtherLot } from './document.ts';

/** What another lot's lenses leave bare at the edge where nothing else is said. */
function ledgeOf({ fixture: { holder } }: Batch): number {
  return holder?.ledgeMm ?? USUAL_HOLDER.ledgeMm;
}

/** The lens of another lot: the order's glass and limits, its own sizes. */
export function lensOfLot(document: Batch, { diameterMm, ...given }: OtherLot): Lens {
  const { frontRadiusMm: _, backRadiusMm: __, ...lens } = document.order.lens;
  const {
    clearApertureMm = Math.max(0.5, diameterMm - 2 * ledgeOf(document)),
    frontRadiusMm,
    backRadiusMm,
  } = given;
  return {
    ...lens,
    diameterMm,
    clearApertureMm,
    ...(frontRadiusMm === undefined ? {} : { frontRadiusMm }),
    ...(backRadiusMm === undefined ? {} : { backRadiusMm }),
  };
}

/** The batch as if another lot's lens were the order's, so that whatever is known of the order's can be asked of it. */
export function batchOfLot(document: Batch, other: OtherLot): Batch {
  return { ...document, order: { ...document.order, lens: lensOfLot(document, other) } };
}
