import { InputError, requireWithin } from '../base/errors.ts';
import type { Seat } from './element.ts';
import { both, type SeatSight, type Sight, secondCrossing } from './sight.ts';

/** A spherical lens in its rack: its vertex in the rack's plane, its axis the rack's normal. */
export interface CurvedLens {
  /** Distance of the lens from the rack's own axis (on a dome: from the chamber's axis). */
  readonly seatRadiusMm: number;
  readonly radiusOfCurvatureMm: number;
  /** Convex bulges towards the vapour. */
  readonly convex: boolean;
  /** Full diameter of the curved face; left out: it ends at the outermost of the points. */
  readonly diameterMm?: number;
  /** The lip that holds the lens and stands out towards the vapour. */
  readonly rim?: HolderRim;
}

export interface HolderRim {
  /** Diameter of the free opening. */
  readonly openingMm: number;
  /** How far the lip stands out from the plane of the lens's vertex towards the vapour; negative: behind that plane. */
  readonly heightMm: number;
}

/** @throws InputError for a value outside its range. `points` are distances from the lens's axis. */
export function requireLens(lens: CurvedLens, points: readonly number[], path = 'lens'): void {
  const { seatRadiusMm, radiusOfCurvatureMm, diameterMm, rim } = lens;
  requireWithin(`${path}.seatRadiusMm`, seatRadiusMm, 'mm', { min: 0, max: 10_000 });
  requireWithin(`${path}.radiusOfCurvatureMm`, radiusOfCurvatureMm, 'mm', { above: 0, max: 1e7 });
  points.forEach((point, index) => {
    requireWithin(`${path}.points[${index}]`, point, 'mm', { min: 0, max: radiusOfCurvatureMm });
  });
  const outermost = Math.max(0, ...points);
  if (diameterMm !== undefined)
    requireWithin(`${path}.diameterMm`, diameterMm, 'mm', {
      min: 2 * outermost,
      max: 2 * radiusOfCurvatureMm,
    });
  if (rim === undefined) return;
  requireWithin(`${path}.rim.openingMm`, rim.openingMm, 'mm', { min: 2 * outermost, max: 10_000 });
  requireWithin(`${path}.rim.heightMm`, rim.heightMm, 'mm', { min: -1000, max: 1000 });
  if (rim.openingMm <= 0) throw new InputError(`${path}.rim.openingMm`, 'the holder has no opening');
}

/** The piece of the lens at `radiusMm` from its axis, outward along the rack's radius; from its own seat. */
export function lensSeat(lens: CurvedLens, radiusMm: number): Seat {
  const slope = radiusMm / lens.radiusOfCurvatureMm;
  const cos = Math.sqrt((1 - slope) * (1 + slope));
  // R (1 − cos) without cancellation.
  const sag = (radiusMm * slope) / (1 + cos);
  return {
    along: radiusMm,
    aside: 0,
    ahead: lens.convex ? -sag : sag,
    normalAlong: lens.convex ? slope : -slope,
    normalAside: 0,
    normalAhead: cos,
  };
}

/**
 * What of the lens and its holder can hide the source from its own points: the far side of a concave face, and
 * the lip. `undefined` where nothing can. (A convex face hides only what it turns away from.)
 */
export function lensSight(lens: CurvedLens, points: readonly number[]): SeatSight | undefined {
  const { rim, convex } = lens;
  const edge = (lens.diameterMm ?? 2 * Math.max(0, ...points)) / 2;
  if (rim === undefined && (convex || edge === 0)) return undefined;
  return (_seat, { tilt }) => {
    const axisX = -Math.sin(tilt);
    const axisZ = -Math.cos(tilt);
    const beside = convex ? undefined : acrossTheDish(lens.radiusOfCurvatureMm, edge, axisX, axisZ);
    const past = rim === undefined ? undefined : overTheLip(lens, rim, axisX, axisZ);
    return both(beside, past)!;
  };
}

/** A ray from a concave face meets its sphere again: inside the face's own edge it is stopped there. */
function acrossTheDish(radius: number, edge: number, axisX: number, axisZ: number): Sight {
  const depthOfEdge = Math.sqrt(Math.max(0, radius * radius - edge * edge));
  return (element, x, y, z) => {
    const crossing = secondCrossing(element, radius, x, y, z);
    // Where the ray meets the sphere again, seen from its centre, along the lens's axis.
    const ahead =
      (crossing * (x - element.x) - radius * element.nx) * axisX +
      (crossing * (z - element.z) - radius * element.nz) * axisZ;
    return Math.max(crossing - 1, (depthOfEdge + ahead) / radius);
  };
}

/** The ray must pass the plane of the lip inside its opening (the source lies far in front of that plane). */
function overTheLip(lens: CurvedLens, lip: HolderRim, axisX: number, axisZ: number): Sight {
  // From a point of the lens to the lens's vertex: along the normal to the centre, back along the axis.
  const bulge = lens.convex ? lens.radiusOfCurvatureMm : -lens.radiusOfCurvatureMm;
  return (element, x, y, z) => {
    const fromVertexX = bulge * (element.nx - axisX);
    const fromVertexY = bulge * element.ny;
    const fromVertexZ = bulge * (element.nz - axisZ);
    const below = lip.heightMm - (fromVertexX * axisX + fromVertexZ * axisZ);
    if (below <= 0) return 1;
    const dx = x - element.x;
    const dy = y - element.y;
    const dz = z - element.z;
    const climb = dx * axisX + dz * axisZ;
    if (climb <= below * 1e-9) return -1e9;
    const part = below / climb;
    const atX = fromVertexX + part * dx - lip.heightMm * axisX;
    const atY = fromVertexY + part * dy;
    const atZ = fromVertexZ + part * dz - lip.heightMm * axisZ;
    return 1 - (2 * Math.hypot(atX, atY, atZ)) / lip.openingMm;
  };
}
