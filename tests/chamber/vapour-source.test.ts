import { describe, expect, it } from 'vitest';
import type { Element } from '../../src/chamber/element.ts';
import type { Sight } from '../../src/chamber/sight.ts';
import { arrivalAt, clearanceAt, meanOverTurn, type VapourSource } from '../../src/chamber/vapour-source.ts';

/** A place whose coated side leans by `lean` (rad) from straight down towards azimuth `towards`. */
function leaning(x: number, y: number, z: number, lean: number, towards = 0): Element {
  return {
    ...{ x, y, z, nz: -Math.cos(lean) },
    nx: Math.sin(lean) * Math.cos(towards),
    ny: Math.sin(lean) * Math.sin(towards),
  };
}

/** The law of L. Holland & W. Steckelmacher, Vacuum 2 (1952) 346-364, written as products of vectors: (n+1) cosⁿφ cosθ / 2πr². */
function law({ offsetMm, exponent, heightMm = 0 }: VapourSource, element: Element, azimuth: number): number {
  const ray = [
    element.x - offsetMm * Math.cos(azimuth),
    element.y - offsetMm * Math.sin(azimuth),
    element.z - heightMm,
  ] as const;
  const squared = ray[0] ** 2 + ray[1] ** 2 + ray[2] ** 2;
  const cosTheta = -(ray[0] * element.nx + ray[1] * element.ny + ray[2] * element.nz) / Math.sqrt(squared);
  const cosPhi = ray[2] / Math.sqrt(squared);
  if (cosTheta <= 0 || cosPhi <= 0) return 0;
  return ((exponent + 1) * cosPhi ** exponent * cosTheta) / (2 * Math.PI * squared);
}

const source: VapourSource = { offsetMm: 220, exponent: 2.5, heightMm: 60 };

describe('the arrival from one source', () => {
  it.each([
    ['level', leaning(180, -40, 700, 0), 0.4],
    ['leaning', leaning(180, -40, 700, 0.6, 2), -1.3],
    ['turned away', leaning(180, -40, 700, 1.7, 0), 3],
    ['beneath the source', leaning(180, -40, 30, 0.3, 1), 1],
  ])('follows the cosine law at a place that is %s', (_, element, azimuth) => {
    expect(arrivalAt(source, element, azimuth)).toBeCloseTo(law(source, element, azimuth), 18);
    expect(arrivalAt({ ...source, heightMm: 0 }, element, azimuth)).toBeCloseTo(
      law({ ...source, heightMm: 0 }, element, azimuth),
      18,
    );
  });

  it('is clear by the cosine of the ray against the normal, or less where a sight says so', () => {
    // From (0, 0, 460) to the source at (300, 0, 60): a ray of 500, and 0.8 of it straight down.
    const above = leaning(0, 0, 460, 0);
    const near = { offsetMm: 300, exponent: 1, heightMm: 60 };
    expect(clearanceAt(near, above, 0)).toBeCloseTo(0.8, 14);
    expect(clearanceAt(near, leaning(0, 0, 460, Math.PI / 2, 0), 0)).toBeCloseTo(0.6, 14);
    expect(clearanceAt(near, leaning(0, 0, 460, Math.PI / 2, 0), Math.PI)).toBeCloseTo(-0.6, 14);
    // From (100, 200, 460) to (300, 0, 60) and to (0, 300, 60), the normal (0.6, −0.48, −0.64).
    const aside = { x: 100, y: 200, z: 460, nx: 0.6, ny: -0.48, nz: -0.64 };
    expect(clearanceAt(near, aside, 0)).toBeCloseTo((120 + 96 + 256) / Math.sqrt(240_000), 14);
    expect(clearanceAt(near, aside, Math.PI / 2)).toBeCloseTo((-60 - 48 + 256) / Math.sqrt(180_000), 14);
    expect(clearanceAt(near, above, 0, () => 0.3)).toBe(0.3);
    expect(clearanceAt(near, above, 0, () => 1)).toBeCloseTo(0.8, 14);
    const seen: number[][] = [];
    const sight: Sight = (_element, x, y, z) => {
      seen.push([x, y, z]);
      return 1;
    };
    clearanceAt(near, above, Math.PI / 2, sight);
    expect(seen).toHaveLength(1);
    expect(seen[0]![0]).toBeCloseTo(0, 12);
    expect(seen[0]!.slice(1)).toEqual([300, 60]);
  });
});

describe('the mean arrival over a turn', () => {
  const places: [string, Element, VapourSource?][] = [
    ['level', leaning(180, -40, 700, 0)],
    ['on the axis', leaning(0, 0, 700, 0.2, 1)],
    ['over a centred source', leaning(180, -40, 700, 0.4, 2), { ...source, offsetMm: 0 }],
    ['over a centred source, turned half away', leaning(180, -40, 700, 1.35, 3), { ...source, offsetMm: 0 }],
    ['close above the source', leaning(200, 90, 75, 0), source],
    ['looking inwards', leaning(300, 0, 400, 0.9, Math.PI)],
    ['looking aside', leaning(150, 100, 300, 0.8, -2)],
    ['upright, seen over part of the turn', leaning(100, 0, 300, Math.PI / 2, 0.3)],
    ['leaning backwards, seen over a small part', leaning(150, 50, 200, 1.75, 2.8)],
    ['just always seen', leaning(0, 0, 220 + 60, Math.PI / 4 - 1e-9, 1)],
  ];
  it.each(places)('is a plain sum of it: %s', (_, element, from = source) => {
    // Where the source sets, the sum of so many steps is good to their square.
    const steps = 10_000;
    let sum = 0;
    for (let step = 0; step < steps; step++) sum += law(from, element, (2 * Math.PI * (step + 0.5)) / steps);
    expect(sum).toBeGreaterThan(0);
    expect(meanOverTurn(from, element) / (sum / steps)).toBeCloseTo(1, 6);
    /** What hides the source while it stands to the left. */
    const sight: Sight = (_element, x, y, z) => (z === from.heightMm ? (x + 0.3 * y) / 220 + 0.1 : -1);
    let seen = 0;
    for (let step = 0; step < steps; step++) {
      const azimuth = (2 * Math.PI * (step + 0.5)) / steps;
      const [x, y] = [from.offsetMm * Math.cos(azimuth), from.offsetMm * Math.sin(azimuth)];
      if (sight(element, x, y, from.heightMm!) > 0) seen += law(from, element, azimuth);
    }
    const found = meanOverTurn(from, element, sight) - seen / steps;
    // A jump lies somewhere within a step.
    expect(Math.abs(found)).toBeLessThan((4e-4 * sum) / steps);
  });

  it('is nothing beneath the source, on its level, and where a place never looks at it', () => {
    for (const element of [
      leaning(180, 0, 60, 0),
      leaning(180, 0, 40, 0),
      leaning(180, 0, 40, Math.PI / 2, Math.PI),
      leaning(300, 0, 400, Math.PI, 0),
      leaning(300, 0, 400, 1.9, 0),
    ]) {
      expect(meanOverTurn(source, element)).toBe(0);
      expect(meanOverTurn(source, element, () => 1)).toBe(0);
    }
    // At the level of sources that stand at the height from which heights count.
    expect(meanOverTurn({ offsetMm: 220, exponent: 0 }, leaning(100, 0, 0, Math.PI / 2, 0))).toBe(0);
  });
});
