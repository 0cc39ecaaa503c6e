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
  /** Sources that fire at the same time. */
  readonly alongside?: readonly Companion[];
  /** Distances from the rack's own axis (on a dome: from the chamber's axis), mm. */
  readonly points: readonly number[];
  /**
   * Direction of each point about the rack's own axis (of gears: at the start), from the chamber's x axis or, on a planet,
   * from the outward one; left out: 0. It counts only where the rack stands still or gears make it come back.
   */
  readonly pointsDeg?: readonly number[];
  readonly lens?: CurvedLens & {
    /** Direction of the lens about the rack's own axis, as `pointsDeg`; default 0. */
    readonly seatDeg?: number;
    /** Distances from the lens's axis, mm. */
    readonly points: readonly number[];
    /** Direction of each about the lens's axis, from outward along the rack's radius; left out: 0. */
    readonly pointsDeg?: readonly number[];
  };
}

/** A further source of the same material. */
export interface Companion {
  readonly source: VapourSource;
  /** Part of the whole evaporated mass that leaves it, 0 to 1; what is left of 1 leaves `source`. */
  readonly share: number;
  /** Sheets in its way; left out: none. */
  readonly shields?: readonly Shield[];
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
 * How the vapour of a source, or of several that fire together, spreads over a moving rack, and over a curved lens on it: the mean over the
 * motion of the emission law of `arrivalPerMm2`, good to about 1e-9 relative. Straight flight, unit sticking;
 * a point that the surface itself hides gets nothing.
 * @throws InputError for a value outside its range, for a rack that dips to the source, and where the point to
 * which the others are compared gets nothing.
 */
export function depositOn(request: DepositRequest): Deposit {
  const { motion, points, pointsDeg, lens } = request;
  requireMotion(motion);
  const firing = firingOf(request);
  requireDirections(pointsDeg, points, 'pointsDeg');
  points.forEach((point, index) => {
    requireWithin(`points[${index}]`, point, 'mm', { min: 0, max: 10_000 });
    requireClear(motion, firing, point, `points[${index}]`);
  });
  const together = (arrivalFrom: (one: Firing) => number) =>
    firing.reduce((sum, one) => sum + one.share * arrivalFrom(one), 0);
  const perMassPerMm2 = points.map((point, index) =>
    together(({ source, shapes }) =>
      meanArrival(source, motion, point, flatSeat(0), undefined, shapes, radOf(pointsDeg?.[index])),
    ),
  );
  const onRack = { perMassPerMm2, relative: relativeTo(perMassPerMm2[0], perMassPerMm2, 'points[0]') };
  if (lens === undefined) return onRack;
  requireLens(lens, lens.points);
  requireClear(motion, firing, lens.seatRadiusMm, 'lens.seatRadiusMm');
  requireDirections(lens.pointsDeg, lens.points, 'lens.pointsDeg');
  requireWithin('lens.seatDeg', lens.seatDeg ?? 0, '°', DIRECTION);
  const sight = lensSight(lens, lens.points);
  const at = (radiusMm: number, deg?: number) => {
    const seat = turned(lensSeat(lens, radiusMm), radOf(deg));
    return together(({ source, shapes }) =>
      meanArrival(source, motion, lens.seatRadiusMm, seat, sight, shapes, radOf(lens.seatDeg)),
    );
  };
  const onLens = lens.points.map((point, index) => at(point, lens.pointsDeg?.[index]));
  const relative = relativeTo(at(0), onLens, 'lens.seatRadiusMm');
  return { ...onRack, lens: { perMassPerMm2: onLens, relative } };
}

/** A source as it fires, with what stands in its way and its part of the whole mass. */
interface Firing {
  readonly source: VapourSource;
  readonly share: number;
  readonly shields: readonly Shield[];
  readonly shapes: readonly ShieldShape[];
  /** Of its shields in the request. */
  readonly path: string;
}

function firingOf({ source, shields = [], alongside = [] }: DepositRequest): Firing[] {
  requireSource(source);
  alongside.forEach((one, index) => {
    requireSource(one.source, `alongside[${index}].source`);
    requireWithin(`alongside[${index}].share`, one.share, '', { above: 0, below: 1 });
  });
  const shared = alongside.reduce((sum, { share }) => sum + share, 0);
  if (shared >= 1)
    throw new InputError('alongside', `shares of ${shared} in all leave nothing for the first source`);
  const one = (source: VapourSource, share: number, shields: readonly Shield[], path: string): Firing => {
    shields.forEach((shield, index) => {
      requireShield(shield, `${path}[${index}]`);
    });
    return { source, share, shields, shapes: shields.map(shieldShape), path };
  };
  return [
    one(source, 1 - shared, shields, 'shields'),
    ...alongside.map(({ source, share, shields = [] }, index) =>
      one(source, share, shields, `alongside[${index}].shields`),
    ),
  ];
}

/** A point of the rack must keep off every source and every shield. */
function requireClear(motion: Motion, firing: readonly Firing[], radiusMm: number, path: string): void {
  for (const one of firing) {
    requireOnRack(motion, one.source, radiusMm, path);
    requireAboveShields(motion, one, radiusMm, path);
  }
}

/**
 * Mean arrival at one piece of surface: `seat` is given from the point of the rack at `radiusMm` (a flat seat at
 * 0 is that point itself). Nothing is checked.
 * @param sightOf whether the piece, in its rack's directions, sees the source; left out: it does wherever it
 * looks towards it. @param shields what stands still between source and rack. @param directionRad of the point about the
 * rack's own axis, at the start.
 */
export function meanArrival(
  source: VapourSource,
  motion: Motion,
  radiusMm: number,
  seat: Seat,
  sightOf?: SeatSight,
  shields: readonly ShieldShape[] = [],
  directionRad = 0,
): number {
  if (motion.kind === 'planetary')
    return overPlanet(source, motion, turned(shifted(seat, radiusMm), directionRad), sightOf, shields);
  const { element, sight } = onAxis(source, motion, radiusMm, seat, sightOf, directionRad);
  if (motion.kind === 'fixed') {
    const azimuth = (source.azimuthDeg ?? 0) * RAD_PER_DEG;
    if (clearanceAt(source, element, azimuth, sight) <= 0 || isShaded(shields, source, element)) return 0;
    return arrivalAt(source, element, azimuth);
  }
  const bare = meanOverTurn(source, element, sight);
  return less(bare, shadedOverTurn(shields, source, element, sight).shaded());
}

/** The piece of a rack or dome around the chamber's axis, and what of these may hide the source from it. */
function onAxis(
  source: VapourSource,
  motion: Exclude<Motion, PlanetaryMotion>,
  radiusMm: number,
  seat: Seat,
  sightOf: SeatSight | undefined,
  directionRad: number,
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
  const moved = turned(shifted(seat, radiusMm), directionRad);
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

function radOf(deg = 0): number {
  return deg * RAD_PER_DEG;
}

/** Where directions are given, each point has one. */
function requireDirections(
  deg: readonly number[] | undefined,
  points: readonly number[],
  path: string,
): void {
  if (deg === undefined) return;
  if (deg.length !== points.length)
    throw new InputError(path, `${deg.length} directions stand against ${points.length} points`);
  deg.forEach((direction, index) => {
    requireWithin(`${path}[${index}]`, direction, '°', DIRECTION);
  });
}

const DIRECTION = { min: -3600, max: 3600 };

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
  { shields, path: shieldPath }: Firing,
  radiusMm: number,
  path: string,
): void {
  const lowest = lowestPointMm(motion, radiusMm);
  for (const [index, { heightMm }] of shields.entries())
    if (lowest <= heightMm)
      throw new InputError(
        `${shieldPath}[${index}].heightMm`,
        `${heightMm} mm is not below ${Number(lowest.toPrecision(6))} mm, to which the rack comes down at ${path}`,
      );
}
