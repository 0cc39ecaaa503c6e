import type { DepositRequest } from '../../src/chamber/deposit.ts';
import type { Shield } from '../../src/chamber/shield.ts';

type Vector = readonly [number, number, number];

const dot = (a: Vector, b: Vector) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const less = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const plus = (a: Vector, b: Vector, times: number): Vector => [
  a[0] + times * b[0],
  a[1] + times * b[1],
  a[2] + times * b[2],
];

/**
 * The film by a plain sum over `steps` equal steps of each rotation, from vectors in the chamber: written
 * without any of the program's own geometry, to check it.
 */
export function bruteForce(
  request: DepositRequest,
  steps: number,
  /** A sheet that spans one angle from its first to its last radius. */
  sector?: Shield,
): { points: number[]; lens: number[] } {
  const { source, motion, lens } = request;
  const origin: Vector = [0, 0, 0];
  /** Middle, outward, sideways and normal directions of the rack at the carrier's angle `a`, planet's `b`. */
  const frame = (a: number, b: number, radius: number): [Vector, Vector, Vector] => {
    const out: Vector = [Math.cos(a), Math.sin(a), 0];
    const side: Vector = [-Math.sin(a), Math.cos(a), 0];
    if (motion.kind === 'planetary') {
      const tilt = (motion.tiltDeg * Math.PI) / 180;
      const normal: Vector = [-Math.sin(tilt) * out[0], -Math.sin(tilt) * out[1], -Math.cos(tilt)];
      const first: Vector = [Math.cos(tilt) * out[0], Math.cos(tilt) * out[1], -Math.sin(tilt)];
      const along = plus(plus(origin, first, Math.cos(b)), side, Math.sin(b));
      const centre = plus([0, 0, motion.heightMm], out, motion.carrierRadiusMm);
      return [plus(centre, along, radius), along, normal];
    }
    if (motion.kind === 'dome') {
      const sine = radius / motion.radiusMm;
      const cosine = Math.sqrt(1 - sine * sine);
      const normal: Vector = [-sine * out[0], -sine * out[1], -cosine];
      const point = plus([0, 0, motion.centreHeightMm], normal, -motion.radiusMm);
      return [point, [cosine * out[0], cosine * out[1], -sine], normal];
    }
    return [plus([0, 0, motion.heightMm], out, radius), out, [0, 0, -1]];
  };
  const sent: Vector = [source.offsetMm, 0, 0];
  const arrive = (point: Vector, normal: Vector): number => {
    const ray = less(sent, point);
    const distance = Math.sqrt(dot(ray, ray));
    const cosTheta = dot(ray, normal) / distance;
    const cosPhi = point[2] / distance;
    if (cosTheta <= 0 || cosPhi <= 0) return 0;
    return ((source.exponent + 1) * cosPhi ** source.exponent * cosTheta) / (2 * Math.PI * distance ** 2);
  };
  /** Whether small steps along the ray run into the dome's upper half. */
  const domeHides = (point: Vector): boolean => {
    if (motion.kind !== 'dome') return false;
    if (Math.hypot(source.offsetMm, motion.centreHeightMm) < motion.radiusMm) return false;
    const centre: Vector = [0, 0, motion.centreHeightMm];
    let inside = true;
    for (let step = 1; step < 200; step++) {
      const at = plus(point, less(sent, point), step / 200);
      const now = dot(less(at, centre), less(at, centre)) < motion.radiusMm ** 2;
      if (inside && !now) return at[2] > motion.centreHeightMm;
      inside = now;
    }
    return false;
  };
  /** Whether the ray to the source goes through the sheet. */
  const sheetHides = (point: Vector): boolean => {
    if (sector === undefined) return false;
    const ray = less(sent, point);
    const [x, y] = plus(point, ray, (sector.heightMm - point[2]) / ray[2]);
    const turn = (((Math.atan2(y, x) * 180) / Math.PI - sector.azimuthDeg + 540) % 360) - 180;
    const [first, last] = [sector.outline[0]!, sector.outline.at(-1)!];
    const radius = Math.hypot(x, y);
    return Math.abs(turn) < first.halfAngleDeg && radius > first.radiusMm && radius < last.radiusMm;
  };
  const overMotion = (value: (a: number, b: number) => number): number => {
    let sum = 0;
    const turn = (step: number) => (2 * Math.PI * (step + 0.5)) / steps;
    if (motion.kind === 'planetary' && motion.gearRatio === undefined) {
      for (let i = 0; i < steps; i++) for (let j = 0; j < steps; j++) sum += value(turn(i), turn(j));
      return sum / steps ** 2;
    }
    const turns = motion.kind === 'planetary' ? (motion.carrierTurns ?? 1) : 1;
    const ratio = motion.kind === 'planetary' ? (motion.gearRatio ?? 0) : 0;
    const start = motion.kind === 'planetary' ? ((motion.startDeg ?? 0) * Math.PI) / 180 : 0;
    const all = 20 * steps;
    for (let i = 0; i < all; i++) {
      const a = (2 * Math.PI * turns * (i + 0.5)) / all;
      sum += value(a, start + ratio * a);
    }
    return sum / all;
  };
  const points = request.points.map((radius) =>
    overMotion((a, b) => {
      const [point, , normal] = frame(a, b, radius);
      return domeHides(point) || sheetHides(point) ? 0 : arrive(point, normal);
    }),
  );
  const onLens = (lens?.points ?? []).map((s) =>
    overMotion((a, b) => {
      const { radiusOfCurvatureMm: curve, convex, seatRadiusMm } = lens!;
      const [vertex, along, normal] = frame(a, b, seatRadiusMm);
      const centre = plus(vertex, normal, convex ? -curve : curve);
      const depth = Math.sqrt(curve ** 2 - s ** 2);
      const point = plus(plus(centre, along, s), normal, convex ? depth : -depth);
      const outwards = less(point, centre);
      const local = plus(origin, outwards, (convex ? 1 : -1) / curve);
      if (domeHides(vertex)) return 0;
      if (!convex && dishHides(point, centre, normal, curve, Math.max(...lens!.points))) return 0;
      return arrive(point, local);
    }),
  );
  function dishHides(point: Vector, centre: Vector, normal: Vector, curve: number, edge: number): boolean {
    const ray = less(sent, point);
    const out = less(point, centre);
    // |out + t ray|² = curve²: t = 0 is the point itself.
    const t = (-2 * dot(out, ray)) / dot(ray, ray);
    if (t <= 0 || t >= 1) return false;
    const again = plus(out, ray, t);
    const ahead = dot(again, normal);
    return ahead < 0 && curve ** 2 - ahead ** 2 <= edge ** 2;
  }
  return { points, lens: onLens };
}
