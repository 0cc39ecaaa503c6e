import { RAD_PER_DEG } from '../base/constants.ts';
import { InputError, requireWithin } from '../base/errors.ts';
import { meanByEqualSteps, meanOverPeriod } from '../math/integrate.ts';
import { integrateWhere } from '../math/integrate-where.ts';
import { type Element, flatSeat, type Hanging, hung, type Seat, turned } from './element.ts';
import { type CurvedLens, lensSeat, lensSight, requireLens } from './lens-surface.ts';
import { closingTurns, lowestPointMm, type Motion, type PlanetaryMotion, requireMotion } from './motion.ts';
import { isShaded, requireShield, type Shield, type ShieldShape, shieldShape } from './shield.ts';
import { shadedOverPath, shadedOverPlanet, shadedOverTurn } from './shield-shadow.ts';
import { both, domeSight, type SeatSight, type Sight } from './sight.ts';
import { arrivalAt, clearanceAt, meanOverTurn, requireSource, type VapourSource } from './vapour-source.ts';

export interface DepositRequest {
  readonly source: VapourSource;
  readonly motion: Motion;
  /** Sheets at rest between source and rack; left out: none. */
  readonly shields?: readonly Shield[];
  /** Distances from the rack's own axis (on a dome: from the chamber's axis), mm. */
  readonly points: readonly number[];
  readonly lens?: CurvedLens & {
    /** Distances from the lens's axis, outward along the rack's radius, mm. */
    readonly points: readonly number[];
  };
}

export interface Arrival {
  /** Fraction of the evaporated mass per mm² at each point. */
  readonly perMassPerMm2: readonly number[];
  /** The same over that of the first point (of the lens: over that of its vertex). */
  readonly relative: readonly number[];
}

export interface Deposit extends Arrival {
  readonly lens?: Arrival;
}

/**
 * How the vapour of one source spreads over a moving rack, and over a curved lens on it: the mean over the
 * motion of the emission law of `arrivalPerMm2`, good to about 1e-9 relative. Straight flight, unit sticking;
 * a point that the surface itself hides gets nothing.
 * @throws InputError for a value outside its range, for a rack that dips to the source, and where the point to
 * which the others are compared gets nothing.
 */
export function depositOn(request: DepositRequest): Deposit {
  const { source, motion, points, lens, shields = [] } = request;
  requireSource(source);
  requireMotion(motion);
  shields.forEach((shield, index) => {
    requireShield(shield, `shields[${index}]`);
  });
  const shapes = shields.map(shieldShape);
  points.forEach((point, index) => {
    requireWithin(`points[${index}]`, point, 'mm', { min: 0, max: 10_000 });
    requireOnRack(motion, source, point, `points[${index}]`);
    requireAboveShields(motion, shields, point, `points[${index}]`);
  });
  const perMassPerMm2 = points.map((point) =>
    meanArrival(source, motion, point, flatSeat(0), undefined, shapes),
  );
  const onRack = { perMassPerMm2, relative: relativeTo(perMassPerMm2[0], perMassPerMm2, 'points[0]') };
  if (lens === undefined) return onRack;
  requireLens(lens, lens.points);
  requireOnRack(motion, source, lens.seatRadiusMm, 'lens.seatRadiusMm');
  requireAboveShields(motion, shields, lens.seatRadiusMm, 'lens.seatRadiusMm');
  const sight = lensSight(lens, lens.points);
  const at = (radiusMm: number) =>
    meanArrival(source, motion, lens.seatRadiusMm, lensSeat(lens, radiusMm), sight, shapes);
  const onLens = lens.points.map(at);
  const relative = relativeTo(at(0), onLens, 'lens.seatRadiusMm');
  return { ...onRack, lens: { perMassPerMm2: onLens, relative } };
}

/**
 * Mean arrival at one piece of surface: `seat` is given from the point of the rack at `radiusMm` (a flat seat at
 * 0 is that point itself). Nothing is checked.
 * @param sightOf whether the piece, in its rack's directions, sees the source; left out: it does wherever it
 * looks towards it. @param shields what stands still between source and rack.
 */
export function meanArrival(
  source: VapourSource,
  motion: Motion,
  radiusMm: number,
  seat: Seat,
  sightOf?: SeatSight,
  shields: readonly ShieldShape[] = [],
): number {
  if (motion.kind === 'planetary')
    return overPlanet(source, motion, shifted(seat, radiusMm), sightOf, shields);
  const { element, sight } = onAxis(source, motion, radiusMm, seat, sightOf);
  if (motion.kind === 'fixed') {
    const azimuth = (source.azimuthDeg ?? 0) * RAD_PER_DEG;
    if (clearanceAt(source, element, azimuth, sight) <= 0 || isShaded(shields, source, element)) return 0;
    return arrivalAt(source, element, azimuth);
  }
  const bare = meanOverTurn(source, element, sight);
  return less(bare, shadedOverTurn(shields, source, element, sight));
}

/** The piece of a rack or dome around the chamber's axis, and what of these may hide the source from it. */
function onAxis(
  source: VapourSource,
  motion: Exclude<Motion, PlanetaryMotion>,
  radiusMm: number,
  seat: Seat,
  sightOf: SeatSight | undefined,
): Placed {
  if (motion.kind === 'dome') {
    const tilt = Math.asin(Math.min(1, radiusMm / motion.radiusMm));
    const height = motion.centreHeightMm + motion.radiusMm * Math.cos(tilt);
    const hanging = { radius: radiusMm, height, tilt };
    const ofDome = domeSight(
      motion.radiusMm,
      motion.centreHeightMm,
      hung(flatSeat(0), hanging),
      source.offsetMm,
      source.heightMm ?? 0,
    );
    return { element: hung(seat, hanging), sight: both(ofDome, sightOf?.(seat, hanging)) };
  }
  const hanging = { radius: 0, height: motion.heightMm, tilt: 0 };
  const moved = shifted(seat, radiusMm);
  return { element: hung(moved, hanging), sight: sightOf?.(moved, hanging) };
}

interface Placed {
  readonly element: Element;
  readonly sight: Sight | undefined;
}

/** What is left where a part is kept away: never below nothing, whatever rounding does. */
function less(bare: number, shaded: number): number {
  return Math.max(0, bare - shaded);
}

function shifted(seat: Seat, radiusMm: number): Seat {
  return { ...seat, along: seat.along + radiusMm };
}

/** Samples of what a planet sees for each turn of it or of its carrier. */
const SAMPLES_PER_WAVE = 24;

/** Steps along a closed path, at first and at most. */
const LATTICE_FIRST = 128;
const LATTICE_MOST = 8192;

/** Mean over the turns of the planet; for each of its angles, over the turns of the carrier where both are free. */
function overPlanet(
  source: VapourSource,
  motion: PlanetaryMotion,
  seat: Seat,
  sightOf: SeatSight | undefined,
  shields: readonly ShieldShape[],
): number {
  const { gearRatio, startDeg = 0 } = motion;
  const hanging: Hanging = {
    radius: motion.carrierRadiusMm,
    height: motion.heightMm,
    tilt: motion.tiltDeg * RAD_PER_DEG,
  };
  const tolerance = sightOf === undefined ? 1e-10 : 1e-8;
  const placed = (angle: number): Placed => {
    const now = turned(seat, angle);
    return { element: hung(now, hanging), sight: sightOf?.(now, hanging) };
  };
  const closing = gearRatio === undefined ? undefined : closingTurns(gearRatio);
  if (gearRatio === undefined || (closing === undefined && motion.carrierTurns === undefined)) {
    const free = (angle: number) => {
      const { element, sight } = placed(angle);
      return meanOverTurn(source, element, sight);
    };
    const bare = meanOverPeriod(free, 2 * Math.PI, tolerance);
    if (shields.length === 0) return bare;
    const shaded = shadedOverPlanet((angle) => {
      const { element, sight } = placed(angle);
      return shadedOverTurn(shields, source, element, sight);
    });
    return less(bare, shaded);
  }
  const azimuth = (source.azimuthDeg ?? 0) * RAD_PER_DEG;
  const start = startDeg * RAD_PER_DEG;
  const bound = (carrier: number) =>
    arrivalAt(source, hung(turned(seat, start + gearRatio * carrier), hanging), azimuth - carrier);
  const clear = (carrier: number) => {
    const { element, sight } = placed(start + gearRatio * carrier);
    return clearanceAt(source, element, azimuth - carrier, sight);
  };
  const turns = motion.carrierTurns ?? closing ?? 1;
  const samplesPerTurn = SAMPLES_PER_WAVE * Math.ceil(1 + Math.abs(gearRatio));
  const shadedOver = (count: number) => {
    const rackRadius = Math.hypot(seat.along, seat.aside);
    const highestZ = motion.heightMm + rackRadius + Math.abs(seat.ahead);
    const reach = { carrierRadius: motion.carrierRadiusMm, rackRadius, highestZ };
    const along = (carrier: number) => placed(start + gearRatio * carrier);
    return shadedOverPath(shields, source, along, reach, gearRatio, count);
  };
  const over = (count: number) => {
    if (count === 0) return 0;
    const samples = Math.ceil(count * samplesPerTurn);
    const bare = integrateWhere(bound, clear, 0, 2 * Math.PI * count, samples, tolerance) / (2 * Math.PI);
    return shields.length === 0 ? bare : less(bare, count * shadedOver(count));
  };
  if (closing === undefined || turns < closing) return over(turns) / turns;
  const rounds = Math.floor(turns / closing + 1e-9);
  // Equal steps along a closed path form a lattice over both angles, so a few of them do even for many turns.
  const lattice =
    sightOf === undefined
      ? meanByEqualSteps(bound, 2 * Math.PI * closing, tolerance, LATTICE_FIRST, LATTICE_MOST)
      : undefined;
  const smooth = lattice === undefined || shields.length === 0 ? lattice : less(lattice, shadedOver(closing));
  const round = smooth === undefined ? over(closing) : smooth * closing;
  const rest = Math.max(0, turns - rounds * closing);
  return (rounds * round + over(rest < 1e-9 ? 0 : rest)) / turns;
}

function relativeTo(reference: number | undefined, values: readonly number[], path: string): number[] {
  if (reference === undefined) return [];
  if (reference <= 0)
    throw new InputError(path, 'nothing arrives there, so the others cannot be compared to it');
  return values.map((value) => value / reference);
}

/** A point must exist on the surface and stay above the source on its way. */
function requireOnRack(motion: Motion, source: VapourSource, radiusMm: number, path: string): void {
  if (motion.kind === 'dome') {
    requireWithin(path, radiusMm, 'mm', { max: motion.radiusMm });
    return;
  }
  const lowest = lowestPointMm(motion, radiusMm);
  const sourceHeight = source.heightMm ?? 0;
  if (lowest <= sourceHeight)
    throw new InputError(
      path,
      `${radiusMm} mm from the axis the rack dips to ${Number(lowest.toPrecision(6))} mm, not above the source at ${sourceHeight} mm`,
    );
}

/** A shield that a rack would run into is no shield. */
function requireAboveShields(
  motion: Motion,
  shields: readonly Shield[],
  radiusMm: number,
  path: string,
): void {
  const lowest = lowestPointMm(motion, radiusMm);
  for (const [index, { heightMm }] of shields.entries())
    if (lowest <= heightMm)
      throw new InputError(
        `shields[${index}].heightMm`,
        `${heightMm} mm is not below ${Number(lowest.toPrecision(6))} mm, to which the rack comes down at ${path}`,
      );
}
