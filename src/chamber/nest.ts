import { InputError, requireWithin } from '../base/errors.ts';
import { nestHexagonal } from './nest-hexagonal.ts';
import { nestOptimised } from './nest-optimised.ts';
import { nestRings } from './nest-rings.ts';
import { type Disc, type KeepOut, type Place, type Point, requireKeepOut } from './place.ts';

export type NestPattern = 'rings' | 'hexagonal' | 'best';

export interface NestCirclesRequest {
  readonly rackDiameterMm: number;
  /** Free edge of the rack: no part comes nearer to it. */
  readonly rimMm: number;
  /** Diameter of the pocket that the part needs in the rack (that of its holder where it has one). */
  readonly partDiameterMm: number;
  /** Least distance between two parts. */
  readonly webMm: number;
  readonly pattern: NestPattern;
  readonly keepOut?: readonly KeepOut[];
  /** Seed of the optimised placement, default 1. */
  readonly seed?: number;
}

export interface Nesting {
  readonly count: number;
  /** The pattern that was taken. */
  readonly pattern: 'rings' | 'hexagonal' | 'optimised' | 'rows';
  readonly positions: readonly Place[];
  /** Area of the parts over that of the whole rack. */
  readonly usedPercent: number;
}

/**
 * Places round parts on a round rack: as many as the pattern holds, no two closer than `webMm`, none nearer to
 * the rack's edge than `rimMm`, none over a zone to keep free. `best` takes the pattern that holds most.
 * The same request gives the same places.
 * @throws InputError for a value outside its range, and where not even one part fits.
 */
export function nestCircles(request: NestCirclesRequest): Nesting {
  const disc = discOf(request);
  requireWithin('seed', request.seed ?? 1, '', { min: 0, max: Number.MAX_SAFE_INTEGER });
  const candidates: [Nesting['pattern'], Point[]][] = [];
  if (request.pattern !== 'hexagonal') candidates.push(['rings', nestRings(disc)]);
  if (request.pattern !== 'rings') candidates.push(['hexagonal', nestHexagonal(disc)]);
  if (request.pattern === 'best') {
    const optimised = nestOptimised(
      disc,
      candidates.map(([, points]) => points),
      request.seed ?? 1,
    );
    if (optimised !== undefined) candidates.push(['optimised', optimised]);
  }
  const [pattern, points] = candidates.reduce((best, next) =>
    next[1].length > best[1].length ? next : best,
  );
  const positions = points
    .map(({ x, y }) => ({ xMm: x, yMm: y, angleDeg: 0 }))
    .sort((a, b) => b.yMm - a.yMm || a.xMm - b.xMm);
  const part = request.partDiameterMm / request.rackDiameterMm;
  return { count: positions.length, pattern, positions, usedPercent: 100 * positions.length * part * part };
}

/** Checks the request and brings it down to a reach and a spacing of centres. */
function discOf(request: NestCirclesRequest): Disc {
  const { rackDiameterMm, rimMm, partDiameterMm, webMm, keepOut = [] } = request;
  requireWithin('rackDiameterMm', rackDiameterMm, 'mm', { above: 0, max: 5000 });
  requireWithin('rimMm', rimMm, 'mm', { min: 0, max: 1000 });
  requireWithin('part.diameterMm', partDiameterMm, 'mm', { min: 0.5, max: 5000 });
  requireWithin('webMm', webMm, 'mm', { min: 0, max: 1000 });
  requireKeepOut(keepOut);
  const reach = (rackDiameterMm - partDiameterMm) / 2 - rimMm;
  if (reach < 0)
    throw new InputError(
      'part.diameterMm',
      `${partDiameterMm} mm does not fit: inside the rim of the rack are ${rackDiameterMm - 2 * rimMm} mm`,
    );
  if (reach > MOST_SPACINGS * (partDiameterMm + webMm))
    throw new InputError(
      'part.diameterMm',
      `${partDiameterMm} mm is too small for this rack: it would hold more than ${MOST_PLACES} parts`,
    );
  return {
    reach,
    spacing: partDiameterMm + webMm,
    zones: keepOut.map((zone) => ({
      x: zone.xMm,
      y: zone.yMm,
      clearance: (zone.diameterMm + partDiameterMm) / 2,
    })),
  };
}

/** A rack that holds more than this is a slip of the pen. */
const MOST_PLACES = 10_000;
const MOST_SPACINGS = 52;
