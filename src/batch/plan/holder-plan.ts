import { InputError } from '../../base/errors.ts';
import { type HolderRing, type HolderRule, holderRing, USUAL_HOLDER } from '../../chamber/holder.ts';
import type { HolderRim } from '../../chamber/lens-surface.ts';
import type { Batch } from '../document.ts';

/** The ring around one lens: its sizes, and how far its ledge stands out from the lens's edge towards the vapour. */
export interface HolderPlan extends HolderRing {
  readonly rule: HolderRule;
  readonly lipMm: number;
}

/**
 * The ring of the batch. Where it says nothing, the usual play and ledge are taken as far as the ring's width and the clear
 * aperture allow, and a ledge without a lip.
 * @throws InputError where play or ledge leave no room.
 */
export function planHolder({ order: { lens }, fixture }: Batch): HolderPlan {
  const { diameterMm, clearApertureMm } = lens;
  const free = Math.max(0, (diameterMm - clearApertureMm) / 2);
  const {
    playMm,
    ledgeMm,
    lipMm = 0,
  } = fixture.holder ?? {
    playMm: Math.min(USUAL_HOLDER.playMm, fixture.holderRingMm),
    ledgeMm: Math.min(USUAL_HOLDER.ledgeMm, free),
  };
  if (playMm > fixture.holderRingMm)
    throw new InputError(
      'fixture.holder.playMm',
      `${playMm} mm is above the ring's width of ${fixture.holderRingMm} mm`,
    );
  if (ledgeMm > free + 1e-9)
    throw new InputError(
      'fixture.holder.ledgeMm',
      `a ledge of ${ledgeMm} mm covers part of the clear aperture; a lens of ${diameterMm} mm with ${clearApertureMm} mm clear leaves at most ${Number(free.toFixed(3))} mm`,
    );
  const rule = { playMm, ledgeMm, wallMm: fixture.holderRingMm - playMm };
  return { ...holderRing(diameterMm, rule), rule, lipMm };
}

/**
 * The lip as the film on a face of this radius of curvature meets it: its height counts from the lens's vertex, which a convex
 * face holds out before its edge. Undefined where the ledge does not stand out.
 */
export function lipBefore(
  { openingMm, lipMm }: HolderPlan,
  radiusOfCurvatureMm: number,
  convex: boolean,
): HolderRim | undefined {
  if (lipMm === 0) return undefined;
  const half = openingMm / 2;
  const root = Math.sqrt(Math.max(0, radiusOfCurvatureMm ** 2 - half ** 2));
  const sag = half ** 2 / (radiusOfCurvatureMm + root);
  return { openingMm, heightMm: convex ? lipMm - sag : lipMm + sag };
}
