import { InputError, requireWithin } from '../base/errors.ts';
import { lowestPointMm, type Motion, type PlanetaryMotion, requireMotion } from './motion.ts';

/** One round rack (or dome) on the chamber's axis. */
export interface OneRackRequest {
  readonly motion: Exclude<Motion, PlanetaryMotion>;
  /** Outer diameter; of a dome: of its open edge. */
  readonly rackDiameterMm: number;
  readonly chamberDiameterMm: number;
  /** Least distance to the wall. */
  readonly wallGapMm: number;
  readonly sources: readonly {
    readonly offsetMm: number;
    readonly heightMm?: number;
    /** Radius around the source that must stay free. */
    readonly clearanceMm: number;
  }[];
}

/** Steps from the rack's axis to its rim when looking for its nearest approach to a source. */
const APPROACH_STEPS = 400;

/**
 * That one rack fits on the axis: it clears the wall and every source, and a dome's edge lies on its sphere's upper half.
 * @throws InputError where a value is outside its range or it does not.
 */
export function requireOneRackFits(request: OneRackRequest): void {
  const { motion, rackDiameterMm, chamberDiameterMm, wallGapMm } = request;
  requireMotion(motion);
  requireWithin('rackDiameterMm', rackDiameterMm, 'mm', { above: 0, max: 10_000 });
  requireWithin('chamberDiameterMm', chamberDiameterMm, 'mm', { above: 0, max: 10_000 });
  requireWithin('wallGapMm', wallGapMm, 'mm', { min: 0, max: 1000 });
  const largest = chamberDiameterMm - 2 * wallGapMm;
  if (rackDiameterMm > largest)
    throw new InputError(
      'rackDiameterMm',
      `${rackDiameterMm} mm would touch the wall: a chamber of ${chamberDiameterMm} mm takes at most ${Math.max(0, largest)} mm`,
    );
  if (motion.kind === 'dome' && rackDiameterMm > 2 * motion.radiusMm)
    throw new InputError(
      'rackDiameterMm',
      `${rackDiameterMm} mm is wider than the dome's sphere, whose diameter is ${2 * motion.radiusMm} mm`,
    );
  request.sources.forEach(({ offsetMm, heightMm = 0, clearanceMm }, index) => {
    requireWithin(`sources[${index}].offsetMm`, offsetMm, 'mm', { min: 0, max: 10_000 });
    const lowest = lowestPointMm(motion, rackDiameterMm / 2);
    if (lowest <= heightMm)
      throw new InputError(
        `sources[${index}]`,
        `at ${heightMm} mm it is not below the rack, which comes down to ${Number(lowest.toPrecision(5))} mm`,
      );
    const nearest = approachMm(motion, rackDiameterMm / 2, offsetMm, heightMm);
    if (nearest < clearanceMm)
      throw new InputError(
        `sources[${index}]`,
        `the rack comes within ${Number(nearest.toPrecision(4))} mm of the source, nearer than the ${clearanceMm} mm that must stay free`,
      );
  });
}

/** Nearest distance of a rack's rings to a source; a ring of the rack passes over every direction. */
function approachMm(motion: Motion, rimMm: number, offsetMm: number, heightMm: number): number {
  let nearest = Number.POSITIVE_INFINITY;
  for (let step = 0; step <= APPROACH_STEPS; step++) {
    const radius = (rimMm * step) / APPROACH_STEPS;
    nearest = Math.min(nearest, Math.hypot(radius - offsetMm, lowestPointMm(motion, radius) - heightMm));
  }
  return nearest;
}
