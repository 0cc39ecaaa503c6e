import { RAD_PER_DEG } from '../base/constants.ts';
import { InputError, requireWithin } from '../base/errors.ts';

/** A carrier with planets in a cylindrical chamber; what stands in the way is a cylinder around the axis. */
export interface FixtureRequest {
  /** Inner diameter of the chamber, or of its liners. */
  readonly chamberDiameterMm: number;
  /** Outer diameter of one planet: the rack with its ring gear. */
  readonly rackDiameterMm: number;
  /** Least distance between two planets. */
  readonly planetGapMm: number;
  /** Least distance to the wall. */
  readonly wallGapMm: number;
  /** Tilt of the planets towards the carrier's axis, default 0. */
  readonly tiltDeg?: number;
  /** Height of the planets' centres above the sources, needed where sources are given. */
  readonly heightMm?: number;
  /** Radius on which the planets' centres run; left out: the largest that the wall allows. */
  readonly carrierRadiusMm?: number;
  /** Diameter of what stands on the carrier's axis (a monitor glass, a gas tube), default 0. */
  readonly centreDiameterMm?: number;
  /** Sources with the radius around their middle that must stay free. */
  readonly sources?: readonly { readonly offsetMm: number; readonly clearanceMm: number }[];
}

export interface FixtureCapacity {
  readonly planets: number;
  readonly carrierRadiusMm: number;
  /** Distance that is left between two neighbours (that of the planet from itself, 0, where there is one). */
  readonly planetGapMm: number;
  readonly wallGapMm: number;
}

/**
 * How many planets of one size fit on a carrier without touching each other, the wall, the middle or a source.
 *
 * Two neighbours mirror each other in the upright plane between them, so their distance is twice that of one
 * disc from this plane: a sin(π/n) − r sqrt(1 − sin² τ sin²(π/n)), for discs of radius r on a circle of radius
 * a, tilted by τ.
 * @throws InputError where a value is outside its range or not one planet fits.
 */
export function planetsOnCarrier(request: FixtureRequest): FixtureCapacity {
  requireFixture(request);
  const { chamberDiameterMm, rackDiameterMm, planetGapMm, wallGapMm, centreDiameterMm = 0 } = request;
  const radius = rackDiameterMm / 2;
  const tilt = (request.tiltDeg ?? 0) * RAD_PER_DEG;
  const reach = radius * Math.cos(tilt);
  const largest = chamberDiameterMm / 2 - wallGapMm - reach;
  const carrierRadiusMm = request.carrierRadiusMm ?? largest;
  if (carrierRadiusMm > largest || largest < 0)
    throw new InputError(
      request.carrierRadiusMm === undefined ? 'rackDiameterMm' : 'carrierRadiusMm',
      `planets of ${rackDiameterMm} mm would touch the wall: in a chamber of ${chamberDiameterMm} mm their centres may run on a circle of at most ${Math.max(0, largest)} mm radius`,
    );
  if (centreDiameterMm > 0 && carrierRadiusMm - reach < centreDiameterMm / 2)
    throw new InputError(
      'centreDiameterMm',
      `planets of ${rackDiameterMm} mm come within ${carrierRadiusMm - reach} mm of the axis, nearer than the ${centreDiameterMm / 2} mm that stand there`,
    );
  requireSourcesFree(request, carrierRadiusMm, radius, tilt);
  const wallLeft = largest + wallGapMm - carrierRadiusMm;
  let planets = 1;
  while (planets < MOST_PLANETS && gapBetween(planets + 1, carrierRadiusMm, radius, tilt) >= planetGapMm)
    planets++;
  return {
    planets,
    carrierRadiusMm,
    planetGapMm: planets === 1 ? 0 : gapBetween(planets, carrierRadiusMm, radius, tilt),
    wallGapMm: wallLeft,
  };
}

const MOST_PLANETS = 1000;

function gapBetween(planets: number, carrierRadius: number, radius: number, tilt: number): number {
  const half = Math.sin(Math.PI / planets);
  return 2 * (carrierRadius * half - radius * Math.sqrt(1 - (Math.sin(tilt) * half) ** 2));
}

/** Steps along the planet's radius when looking for its nearest approach to a source. */
const APPROACH_STEPS = 2000;

function requireSourcesFree(
  request: FixtureRequest,
  carrierRadius: number,
  radius: number,
  tilt: number,
): void {
  request.sources?.forEach((source, index) => {
    const { heightMm } = request;
    if (heightMm === undefined)
      throw new InputError('heightMm', 'is missing; it is needed to keep the planets off the sources');
    const nearest = approach(source.offsetMm, carrierRadius, heightMm, radius, tilt);
    if (nearest < source.clearanceMm)
      throw new InputError(
        `sources[${index}]`,
        `a planet comes within ${Number(nearest.toPrecision(4))} mm of the source, nearer than the ${source.clearanceMm} mm that must stay free`,
      );
  });
}

/**
 * Nearest approach of a turning planet to a source at height 0, by the distances from the carrier's axis that
 * each line across the planet sweeps as the carrier turns.
 */
function approach(
  offset: number,
  carrierRadius: number,
  height: number,
  radius: number,
  tilt: number,
): number {
  let nearest = Number.POSITIVE_INFINITY;
  for (let step = 0; step <= APPROACH_STEPS; step++) {
    const along = radius * ((2 * step) / APPROACH_STEPS - 1);
    const inner = Math.abs(carrierRadius + along * Math.cos(tilt));
    const outer = Math.hypot(inner, Math.sqrt(radius * radius - along * along));
    const aside = offset < inner ? inner - offset : Math.max(0, offset - outer);
    nearest = Math.min(nearest, Math.hypot(aside, height - along * Math.sin(tilt)));
  }
  return nearest;
}

function requireFixture(request: FixtureRequest): void {
  requireWithin('chamberDiameterMm', request.chamberDiameterMm, 'mm', { above: 0, max: 10_000 });
  requireWithin('rackDiameterMm', request.rackDiameterMm, 'mm', { above: 0, max: 10_000 });
  requireWithin('planetGapMm', request.planetGapMm, 'mm', { min: 0, max: 1000 });
  requireWithin('wallGapMm', request.wallGapMm, 'mm', { min: 0, max: 1000 });
  requireWithin('tiltDeg', request.tiltDeg ?? 0, '°', { min: -90, max: 90 });
  requireWithin('heightMm', request.heightMm ?? 1, 'mm', { above: 0, max: 10_000 });
  requireWithin('carrierRadiusMm', request.carrierRadiusMm ?? 0, 'mm', { min: 0, max: 10_000 });
  requireWithin('centreDiameterMm', request.centreDiameterMm ?? 0, 'mm', { min: 0, max: 10_000 });
  request.sources?.forEach((source, index) => {
    requireWithin(`sources[${index}].offsetMm`, source.offsetMm, 'mm', { min: 0, max: 10_000 });
    requireWithin(`sources[${index}].clearanceMm`, source.clearanceMm, 'mm', { min: 0, max: 10_000 });
  });
}
