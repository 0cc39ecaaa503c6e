import type { Disc } from './place.ts';

/** Pairs closer than this many spacings are kept in the list; see `Overlap`. */
const LISTED = 1.6;

/**
 * How much places overlap each other, the rack's edge and the zones: the sum of the squared overlaps, lengths in
 * spacings. Zero where the places fit. The coordinates stand as x0, y0, x1, y1, … in units of the spacing.
 *
 * Only near pairs can overlap; their list is remade when a place has moved so far that another pair could
 * (L. Verlet, Phys. Rev. 159, 98, 1967).
 */
export class Overlap {
  readonly #count: number;
  readonly #reach: number;
  readonly #zones: readonly { readonly x: number; readonly y: number; readonly clearance: number }[];
  readonly #pairs: Int32Array;
  readonly #listedAt: Float64Array;
  #pairCount = 0;

  constructor(disc: Disc, count: number) {
    this.#count = count;
    this.#reach = disc.reach / disc.spacing;
    this.#zones = disc.zones.map((zone) => ({
      x: zone.x / disc.spacing,
      y: zone.y / disc.spacing,
      clearance: zone.clearance / disc.spacing,
    }));
    this.#pairs = new Int32Array(count * (count - 1));
    // Nowhere, so that the list is made at the first look.
    this.#listedAt = new Float64Array(2 * count).fill(Number.POSITIVE_INFINITY);
  }

  /** Value and, written into `gradient`, its slope. A field so that it can be passed on as an objective. */
  readonly value = (x: Float64Array, gradient: Float64Array): number => {
    this.#refresh(x);
    gradient.fill(0);
    let sum = 0;
    const pairs = this.#pairs;
    const end = 2 * this.#pairCount;
    for (let at = 0; at < end; at += 2) {
      const i = pairs[at]!;
      const j = pairs[at + 1]!;
      const dx = x[i]! - x[j]!;
      const dy = x[i + 1]! - x[j + 1]!;
      const squared = dx * dx + dy * dy;
      if (squared >= 1) continue;
      const distance = Math.sqrt(squared);
      const overlap = 1 - distance;
      sum += overlap * overlap;
      const force = distance > 0 ? (2 * overlap) / distance : 0;
      gradient[i]! -= force * dx;
      gradient[i + 1]! -= force * dy;
      gradient[j]! += force * dx;
      gradient[j + 1]! += force * dy;
    }
    const reach = this.#reach;
    for (let i = 0; i < x.length; i += 2) {
      const squared = x[i]! * x[i]! + x[i + 1]! * x[i + 1]!;
      if (squared <= reach * reach) continue;
      const distance = Math.sqrt(squared);
      const overlap = distance - reach;
      sum += overlap * overlap;
      const force = (2 * overlap) / distance;
      gradient[i]! += force * x[i]!;
      gradient[i + 1]! += force * x[i + 1]!;
    }
    for (const zone of this.#zones) sum += this.#zone(zone, x, gradient);
    return sum;
  };

  /** Overlap of each place with everything around it (squared, a pair counted for both). */
  pains(x: Float64Array, pains: Float64Array): void {
    this.#refresh(x);
    pains.fill(0);
    for (let at = 0; at < 2 * this.#pairCount; at += 2) {
      const i = this.#pairs[at]!;
      const j = this.#pairs[at + 1]!;
      const overlap = 1 - distanceOf(x[i]! - x[j]!, x[i + 1]! - x[j + 1]!);
      if (overlap <= 0) continue;
      pains[i / 2]! += overlap * overlap;
      pains[j / 2]! += overlap * overlap;
    }
    for (let i = 0; i < x.length; i += 2) pains[i / 2]! += this.#outside(x[i]!, x[i + 1]!);
  }

  /** What a place at (px, py) would overlap if place `skip` stood there. */
  painAt(x: Float64Array, px: number, py: number, skip: number): number {
    let pain = this.#outside(px, py);
    for (let i = 0; i < x.length; i += 2) {
      if (i === 2 * skip) continue;
      const dx = x[i]! - px;
      const dy = x[i + 1]! - py;
      const squared = dx * dx + dy * dy;
      if (squared < 1) pain += square(1 - Math.sqrt(squared));
    }
    return pain;
  }

  #outside(px: number, py: number): number {
    let pain = square(Math.max(0, distanceOf(px, py) - this.#reach));
    for (const zone of this.#zones)
      pain += square(Math.max(0, zone.clearance - distanceOf(px - zone.x, py - zone.y)));
    return pain;
  }

  #zone(zone: { x: number; y: number; clearance: number }, x: Float64Array, gradient: Float64Array): number {
    let sum = 0;
    for (let i = 0; i < x.length; i += 2) {
      const dx = x[i]! - zone.x;
      const dy = x[i + 1]! - zone.y;
      const distance = distanceOf(dx, dy);
      const overlap = zone.clearance - distance;
      if (overlap <= 0) continue;
      sum += overlap * overlap;
      const force = distance > 0 ? (2 * overlap) / distance : 0;
      gradient[i]! -= force * dx;
      gradient[i + 1]! -= force * dy;
    }
    return sum;
  }

  #refresh(x: Float64Array): void {
    const slack = ((LISTED - 1) / 2) ** 2;
    const listedAt = this.#listedAt;
    let moved = false;
    for (let i = 0; i < x.length && !moved; i += 2) {
      const dx = x[i]! - listedAt[i]!;
      const dy = x[i + 1]! - listedAt[i + 1]!;
      moved = dx * dx + dy * dy > slack;
    }
    if (!moved) return;
    listedAt.set(x);
    let count = 0;
    for (let i = 0; i < 2 * this.#count; i += 2)
      for (let j = i + 2; j < 2 * this.#count; j += 2) {
        const dx = x[i]! - x[j]!;
        const dy = x[i + 1]! - x[j + 1]!;
        if (dx * dx + dy * dy > LISTED * LISTED) continue;
        this.#pairs[2 * count] = i;
        this.#pairs[2 * count + 1] = j;
        count++;
      }
    this.#pairCount = count;
  }
}

/**
 * Only what IEEE 754 rounds alike everywhere is used (a root, no `hypot` and no power), so that every engine finds
 * the same places.
 */
function distanceOf(dx: number, dy: number): number {
  return Math.sqrt(dx * dx + dy * dy);
}

function square(value: number): number {
  return value * value;
}
