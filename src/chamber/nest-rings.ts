import { type Disc, isFree, type Point } from './place.ts';

interface Ring {
  readonly radius: number;
  readonly count: number;
  /** Angle of one of its places, rad. */
  readonly phase: number;
}

/** A part-filled rack on the way to the best: its rings from outside in, and how much it promises. */
interface Partial {
  readonly rings: readonly Ring[];
  readonly count: number;
  readonly promise: number;
}

/** How many part-filled racks are followed at once. */
const BEAM = 48;
/** Counts tried for each ring below the most that it holds. */
const FEWER = 3;

/**
 * Places on concentric rings, each ring evenly divided and turned so that it dips as far as it can into the
 * gaps of the ring outside it. The numbers a ring are searched from outside in, the most promising part-filled
 * racks followed side by side. With zones to keep free, the whole pattern is turned to where it loses least.
 */
export function nestRings(disc: Disc): Point[] {
  const rings = bestRings(disc);
  if (disc.zones.length === 0) return pointsOf(rings, 0);
  const counts = rings.map((ring) => ring.count);
  const turns = 4 * Math.max(24, ...counts);
  let best: Point[] = [];
  for (let turn = 0; turn < turns; turn++) {
    const points = pointsOf(rings, (2 * Math.PI * turn) / turns).filter((point) => isFree(disc, point));
    if (points.length > best.length) best = points;
  }
  return best;
}

function bestRings({ reach, spacing }: Disc): readonly Ring[] {
  let best: Partial = { rings: [], count: 0, promise: 0 };
  let beam: Partial[] = [best];
  while (beam.length > 0) {
    const next = beam.flatMap((partial) => inner(partial, reach, spacing));
    for (const partial of next) if (partial.count > best.count) best = partial;
    beam = next.sort((a, b) => b.promise - a.promise).slice(0, BEAM);
  }
  return best.rings;
}

/** The part-filled rack with one ring more inside its last one: with several counts for that ring. */
function inner(partial: Partial, reach: number, spacing: number): Partial[] {
  const outer = partial.rings.at(-1);
  const beyond = partial.rings.at(-2);
  const limit = Math.min(reach, beyond === undefined ? reach : beyond.radius - spacing);
  const most = Math.max(1, Math.floor((2 * Math.PI * limit) / spacing) + 1);
  const found: Partial[] = [];
  for (let count = most; count >= 1 && found.length <= FEWER; count--) {
    const ring = outer === undefined ? outermost(count, limit) : nested(count, outer, limit, spacing);
    if (ring === undefined || ring.radius < leastRadius(count, spacing) * (1 - 1e-13)) continue;
    const radius = Math.max(0, ring.radius - 0.87 * spacing);
    const room = ring.count === 1 ? 0 : (Math.PI * radius * (radius + spacing)) / (0.87 * spacing * spacing);
    const total = partial.count + count;
    found.push({ rings: [...partial.rings, ring], count: total, promise: total + room });
  }
  return found;
}

function outermost(count: number, limit: number): Ring {
  return { radius: count === 1 ? 0 : limit, count, phase: 0 };
}

/**
 * The largest ring of `count` places inside `outer`. Two evenly divided rings of p and q places come no nearer
 * in angle than π gcd(p, q) / (p q) at best; at that angle δ the chord rule gives the radius
 * ρ = R cos δ − sqrt(spacing² − R² sin² δ), too small a one for its places where nothing fits.
 */
function nested(count: number, outer: Ring, limit: number, spacing: number): Ring | undefined {
  const angle = (Math.PI * greatestCommonDivisor(count, outer.count)) / (count * outer.count);
  if (count === 1) return outer.radius >= spacing * (1 - 1e-13) ? { radius: 0, count, phase: 0 } : undefined;
  const across = outer.radius * Math.sin(angle);
  const radius =
    across >= spacing
      ? limit
      : Math.min(limit, outer.radius * Math.cos(angle) - Math.sqrt(spacing * spacing - across * across));
  return { radius, count, phase: outer.phase + angle };
}

function leastRadius(count: number, spacing: number): number {
  return count === 1 ? 0 : spacing / (2 * Math.sin(Math.PI / count));
}

function pointsOf(rings: readonly Ring[], turn: number): Point[] {
  return rings.flatMap(({ radius, count, phase }) =>
    Array.from({ length: count }, (_, index) => {
      const angle = phase + turn + (2 * Math.PI * index) / count;
      return { x: radius * Math.cos(angle), y: radius * Math.sin(angle) };
    }),
  );
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}
