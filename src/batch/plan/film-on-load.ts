import { RAD_PER_DEG } from '../../base/constants.ts';
import { remember } from '../../base/remember.ts';
import { type Deposit, type DepositRequest, depositOn } from '../../chamber/deposit.ts';
import type { Batch, Side } from '../document.ts';
import { convexRadiusMm } from '../sides.ts';
import { lipBefore, planHolder } from './holder-plan.ts';
import { isDirected, motionOf } from './load-motion.ts';
import type { LoadPlan, Place } from './plan-types.ts';
import { plainShields } from './shields-of.ts';
import type { VapourShare } from './vapour-of.ts';

/** Places whose seats round to the same thousandth of a mm (and, where that counts, of a degree) get the same film. */
const PLACE_DECIMALS = 3;

/** A face of this radius is plane. */
const PLANE_MM = 1e7;

/** Most edits leave the geometry alone; several materials of one source share it. */
const deposit = remember<DepositRequest, Deposit>(depositOn, 60);

/** Where something stands on its rack: from the rack's axis, and in which direction. */
export interface SeatOnRack {
  readonly radiusMm: number;
  /** 0 where the motion makes every direction alike. */
  readonly deg: number;
}

/** The seats of places, as far as the motion tells them apart. */
export function seatsOf(document: Batch, places: readonly Place[]): SeatOnRack[] {
  const directed = isDirected(motionOf(document));
  return places.map(({ xMm, yMm }) => ({
    radiusMm: Number(Math.hypot(xMm, yMm).toFixed(PLACE_DECIMALS)),
    deg: directed ? Number((Math.atan2(yMm, xMm) / RAD_PER_DEG).toFixed(PLACE_DECIMALS)) : 0,
  }));
}

/** What arrives at points of a rack, part of the evaporated mass per mm². */
export function filmAtSeats(
  document: Batch,
  vapour: readonly VapourShare[],
  seats: readonly SeatOnRack[],
): number[] {
  const keys = seats.map(({ radiusMm, deg }) => `${radiusMm} ${deg}`);
  const distinct = [...new Map(seats.map((seat, index) => [keys[index]!, seat]))];
  const { perMassPerMm2 } = deposit({
    ...firing(document, vapour),
    points: distinct.map(([, { radiusMm }]) => radiusMm),
    pointsDeg: distinct.map(([, { deg }]) => deg),
  });
  const at = new Map(distinct.map(([key], index) => [key, perMassPerMm2[index]!]));
  return keys.map((key) => at.get(key)!);
}

/** What arrives on every place of a rack; the mean is that of the lenses. */
export function filmOnPlaces(
  document: Batch,
  vapour: readonly VapourShare[],
  { places }: Pick<LoadPlan, 'places'>,
) {
  const film = filmAtSeats(document, vapour, seatsOf(document, places));
  const ofUse = (use: Place['use']) => film.filter((_, index) => places[index]!.use === use);
  const [lenses, witnesses] = [ofUse('lens'), ofUse('witness')];
  return { film, lenses, witnesses, mean: meanOf(lenses.length > 0 ? lenses : film) };
}

/**
 * The film over a lens on its seat, over that at its centre, at points given by their distance from its axis and their
 * direction from outward along the rack's radius. A plane face lies in its rack; the holder's lip shadows the edge of any, by
 * the direction towards the source at every moment of the motion.
 */
export function filmOverLens(
  document: Batch,
  side: Side,
  vapour: readonly VapourShare[],
  seat: SeatOnRack,
  points: readonly number[],
  pointsDeg: readonly number[],
): readonly number[] {
  const radius = convexRadiusMm(document, side) ?? PLANE_MM;
  const [curvature, convex] = [Math.abs(radius), radius > 0];
  const rim = lipBefore(planHolder(document), curvature, convex);
  const { lens } = deposit({
    ...firing(document, vapour),
    points: [],
    lens: {
      seatRadiusMm: seat.radiusMm,
      seatDeg: seat.deg,
      radiusOfCurvatureMm: curvature,
      convex,
      diameterMm: document.order.lens.diameterMm,
      ...(rim === undefined ? {} : { rim }),
      points,
      pointsDeg,
    },
  });
  return lens?.relative ?? [];
}

/**
 * Where the edge of a lens is looked at, from outward along its rack's radius: outward, aside and inward. Both asides are alike
 * where the motion does not tell directions apart.
 */
const EDGE_DEG = [0, 90, 180];
const EDGE_DIRECTED_DEG = [0, 90, 180, 270];

/** The film around the edge of the clear aperture over that at the lens's centre; as many points for every seat of a motion. */
export function filmAtEdge(
  document: Batch,
  side: Side,
  vapour: readonly VapourShare[],
  seat: SeatOnRack,
): readonly number[] {
  const deg = isDirected(motionOf(document)) ? EDGE_DIRECTED_DEG : EDGE_DEG;
  const half = document.order.lens.clearApertureMm / 2;
  return filmOverLens(
    document,
    side,
    vapour,
    seat,
    deg.map(() => half),
    deg,
  );
}

/** The sources as they fire, for `depositOn`. */
function firing(document: Batch, [first, ...others]: readonly VapourShare[]) {
  return {
    source: first!.source,
    shields: plainShields(first!.shields),
    ...(others.length === 0
      ? {}
      : {
          alongside: others.map(({ source, share, shields }) => ({
            source,
            share,
            shields: plainShields(shields),
          })),
        }),
    motion: motionOf(document),
  };
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
