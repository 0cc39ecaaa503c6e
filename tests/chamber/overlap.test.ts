import { describe, expect, it } from 'vitest';
import { Overlap } from '../../src/chamber/overlap.ts';
import type { Disc } from '../../src/chamber/place.ts';
import { Random } from '../../src/math/random.ts';

/** Spacing 4 and reach 10: in spacings 2.5. One zone near the middle, one over the rim. */
const disc: Disc = {
  reach: 10,
  spacing: 4,
  zones: [
    { x: 2, y: -3, clearance: 3 },
    { x: -9, y: 4, clearance: 2 },
  ],
};
const COUNT = 14;

/** The sum of squared overlaps as its definition reads, lengths in spacings, all pairs gone through; and each place's own. */
function plain({ reach, spacing, zones }: Disc, x: Float64Array): { value: number; pains: number[] } {
  const points = Array.from(
    { length: x.length / 2 },
    (_, index) => [x[2 * index]!, x[2 * index + 1]!] as const,
  );
  const squared = (overlap: number) => Math.max(0, overlap) ** 2;
  let pairs = 0;
  let alone = 0;
  const pains = points.map(([px, py], index) => {
    let own = squared(Math.hypot(px, py) - reach / spacing);
    for (const { x: zx, y: zy, clearance } of zones)
      own += squared(clearance / spacing - Math.hypot(px - zx / spacing, py - zy / spacing));
    alone += own;
    points.forEach(([qx, qy], other) => {
      if (other === index) return;
      const both = squared(1 - Math.hypot(px - qx, py - qy));
      own += both;
      pairs += both / 2;
    });
    return own;
  });
  return { value: pairs + alone, pains };
}

/** Places thrown over a square somewhat wider than the rack, so that every kind of overlap is there. */
function thrown(random: Random, count = COUNT): Float64Array {
  return Float64Array.from({ length: 2 * count }, () => 6 * random.uniform() - 3);
}

describe('the overlap of places', () => {
  it('is the sum of its squares over pairs, rim and zones, a place’s own pain what it has part in', () => {
    const random = new Random(5);
    for (let round = 0; round < 20; round++) {
      const overlap = new Overlap(disc, COUNT);
      const x = thrown(random);
      const expected = plain(disc, x);
      expect(overlap.value(x, new Float64Array(2 * COUNT))).toBeCloseTo(expected.value, 12);
      const pains = new Float64Array(COUNT).fill(7);
      overlap.pains(x, pains);
      expected.pains.forEach((pain, index) => {
        expect(pains[index]).toBeCloseTo(pain, 12);
      });
    }
  });

  it('has the slope that differences show', () => {
    const random = new Random(6);
    const overlap = new Overlap(disc, COUNT);
    for (let round = 0; round < 5; round++) {
      const x = thrown(random);
      const gradient = new Float64Array(2 * COUNT).fill(99);
      overlap.value(x, gradient);
      for (let at = 0; at < x.length; at++) {
        const step = 1e-6;
        const [up, down] = [Float64Array.from(x), Float64Array.from(x)];
        up[at]! += step;
        down[at]! -= step;
        const slope = (plain(disc, up).value - plain(disc, down).value) / (2 * step);
        // The second derivative jumps at the edge of an overlap, so that a difference there is good to its step alone.
        expect(Math.abs(gradient[at]! - slope), `round ${round}, ${at}`).toBeLessThan(1e-5);
      }
    }
  });

  it('is right after every move, small or large, alone or with others', () => {
    const random = new Random(7);
    const overlap = new Overlap(disc, COUNT);
    const x = thrown(random);
    const gradient = new Float64Array(2 * COUNT);
    for (let round = 0; round < 300; round++) {
      // Many small moves lead far, one large one as well.
      const size = round % 10 === 9 ? 4 : 0.2;
      if (round % 3 === 0) x[random.integer(x.length)]! += size * (random.uniform() - 0.5);
      else for (let at = 0; at < x.length; at++) x[at]! += (size / 2) * (random.uniform() - 0.5);
      for (let at = 0; at < x.length; at++) x[at] = Math.max(-3, Math.min(3, x[at]!));
      expect(overlap.value(x, gradient), `round ${round}`).toBeCloseTo(plain(disc, x).value, 11);
    }
  });

  it('finds a pair that was far apart when one of them has crept up to the other', () => {
    for (const [dx, dy] of [
      [1, 0],
      [0, 1],
      [0.8, -0.6],
    ] as const) {
      const overlap = new Overlap({ reach: 100, spacing: 1, zones: [] }, 2);
      const gradient = new Float64Array(4);
      const other = new Overlap({ reach: 100, spacing: 1, zones: [] }, 2);
      for (let away = 3; away > 0.5; away -= 0.125) {
        const value = overlap.value(Float64Array.of(0, 0, away * dx, away * dy), gradient);
        expect(value, `${away}`).toBeCloseTo(Math.max(0, 1 - away) ** 2, 12);
        const first = other.value(Float64Array.of(away * dx, away * dy, 0, 0), gradient);
        expect(first, `${away}, the first`).toBeCloseTo(Math.max(0, 1 - away) ** 2, 12);
      }
    }
  });

  it('finds two places that come together by less than a third of a spacing each', () => {
    for (const [dx, dy] of [
      [0.1, 1.3],
      [1.3, 0.1],
    ] as const) {
      const overlap = new Overlap({ reach: 100, spacing: 1, zones: [] }, 2);
      const at = (part: number) => Float64Array.of(part * dx, part * dy, (1 - part) * dx, (1 - part) * dy);
      const gradient = new Float64Array(4);
      expect(overlap.value(at(0), gradient)).toBe(0);
      expect(overlap.value(at(0.22), gradient)).toBeCloseTo((1 - 0.56 * Math.hypot(dx, dy)) ** 2, 12);
    }
  });

  it('of places that just touch each other, the rim and a zone is nothing, and pushes nobody', () => {
    const touching: Disc = { reach: 3, spacing: 2, zones: [{ x: 0, y: 2, clearance: 2 }] };
    const overlap = new Overlap(touching, 3);
    const x = Float64Array.of(-0.5, 0, 0.5, 0, 0, -1.5);
    const gradient = new Float64Array(6).fill(1);
    const near = new Overlap({ ...touching, zones: [] }, 3);
    expect(near.value(x, gradient)).toBe(0);
    expect([...gradient]).toEqual([0, 0, 0, 0, 0, 0]);
    // From (0, 0), which touches it, the zone's centre is one spacing off.
    const alone = new Overlap(touching, 1);
    expect(alone.value(Float64Array.of(0, 0), new Float64Array(2))).toBe(0);
    expect(overlap.painAt(x, 0, 0, 2)).toBeCloseTo(2 * 0.5 ** 2, 12);
  });

  it('of places on one point or on a zone’s middle is told without a direction', () => {
    const one: Disc = { reach: 10, spacing: 2, zones: [{ x: 2, y: 4, clearance: 3 }] };
    const overlap = new Overlap(one, 3);
    const gradient = new Float64Array(6);
    // Two on one point, one on the middle of the zone: 1² and (3/2)².
    const x = Float64Array.of(-2, -1, -2, -1, 1, 2);
    expect(overlap.value(x, gradient)).toBe(1 + 1.5 ** 2);
    expect([...gradient].map((slope) => slope + 0)).toEqual([0, 0, 0, 0, 0, 0]);
  });

  it('of a place that is moved is that of all others with its new place', () => {
    const random = new Random(8);
    const overlap = new Overlap(disc, COUNT);
    const x = thrown(random);
    for (let skip = 0; skip < COUNT; skip++) {
      const [px, py] = [6 * random.uniform() - 3, 6 * random.uniform() - 3];
      const moved = Float64Array.from(x);
      moved[2 * skip] = px;
      moved[2 * skip + 1] = py;
      expect(overlap.painAt(x, px, py, skip)).toBeCloseTo(plain(disc, moved).pains[skip]!, 12);
    }
  });
});
