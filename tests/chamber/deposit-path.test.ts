import { describe, expect, it } from 'vitest';
import { type DepositRequest, depositOn } from '../../src/chamber/deposit.ts';
import type { PlanetaryMotion } from '../../src/chamber/motion.ts';
import type { Shield } from '../../src/chamber/shield.ts';

const source = { offsetMm: 250, exponent: 2, azimuthDeg: 15 };
const planet = { kind: 'planetary', carrierRadiusMm: 320, heightMm: 700, tiltDeg: 18 } as const;
const lens = { seatRadiusMm: 60, radiusOfCurvatureMm: 30, convex: false, points: [0, 20] };
const sheet: Shield = {
  ...{ heightMm: 560, azimuthDeg: 40 },
  outline: [40, 420].map((radiusMm) => ({ radiusMm, halfAngleDeg: 14 })),
};

/** The films of a rack and of a dished lens on it after so many turns of gears, which add up to the mean times the turns. */
function filmsAfter(more: Partial<PlanetaryMotion>, rest: Partial<DepositRequest> = {}): number[] {
  const motion = { ...planet, ...more };
  const { perMassPerMm2, lens: onLens } = depositOn({ source, motion, points: [0, 110], lens, ...rest });
  const turns = motion.carrierTurns ?? 1;
  return [...perMassPerMm2, ...(onLens?.perMassPerMm2 ?? [])].map((film) => turns * film);
}

const scenes: [string, Partial<DepositRequest>][] = [
  ['bare', {}],
  ['under a sheet', { shields: [sheet] }],
  ['under a sheet, over a raised source', { source: { ...source, heightMm: 30 }, shields: [sheet] }],
];

describe('the film of geared planets', () => {
  it.each(scenes)('after whole rounds and a rest is the sum of what each has laid down: %s', (_, rest) => {
    // With the gear ratio 1.5 the path closes after 2 turns.
    const [half, one, two, three, five] = [0.5, 1, 2, 3, 5].map((carrierTurns) =>
      filmsAfter({ gearRatio: 1.5, carrierTurns }, rest),
    );
    two!.forEach((film, index) => {
      expect(three![index]! / (film + one![index]!)).toBeCloseTo(1, 6);
      expect(five![index]! / (2 * film + one![index]!)).toBeCloseTo(1, 6);
    });
    // The second half turn is the first of gears that begin where it ended: turned by 1.5 half turns, seen 180° further on.
    const from = { ...(rest.source ?? source), azimuthDeg: 15 - 180 };
    const shields = rest.shields?.map((one) => ({ ...one, azimuthDeg: one.azimuthDeg - 180 }));
    const second = filmsAfter(
      { gearRatio: 1.5, carrierTurns: 0.5, startDeg: 270 },
      { ...rest, source: from, ...(shields === undefined ? {} : { shields }) },
    );
    one!.forEach((film, index) => {
      expect(film / (half![index]! + second[index]!)).toBeCloseTo(1, 6);
    });
  });

  it.each(scenes)('that ran for a whole round is that of the closed path: %s', (_, rest) => {
    const closed = filmsAfter({ gearRatio: 1.5 }, rest);
    filmsAfter({ gearRatio: 1.5, carrierTurns: 2 }, rest).forEach((film, index) => {
      expect(film / 2 / closed[index]!).toBeCloseTo(1, 9);
    });
    filmsAfter({ gearRatio: 1.5, carrierTurns: 8 }, rest).forEach((film, index) => {
      expect(film / 8 / closed[index]!).toBeCloseTo(1, 9);
    });
  });

  it.each(scenes)('whose path never closes is that of free planets: %s', (_, rest) => {
    // The golden ratio is the one furthest from all fractions (Hurwitz 1891).
    const golden = filmsAfter({ gearRatio: (1 + Math.sqrt(5)) / 2 }, rest);
    expect(golden).toEqual(filmsAfter({}, rest));
    const geared = filmsAfter({ gearRatio: (1 + Math.sqrt(5)) / 2, carrierTurns: 0.4 }, rest);
    expect(Math.abs(geared[1]! / 0.4 / golden[1]! - 1)).toBeGreaterThan(1e-3);
  });
});

describe('the film of a rack at rest', () => {
  const motion = { kind: 'fixed', heightMm: 700 } as const;
  it('is nothing in the shadow of a sheet, and elsewhere as without', () => {
    const ask = { source, motion, points: [100, 100, 100, 100], pointsDeg: [200, 75, 40, 15] };
    const bare = depositOn(ask).perMassPerMm2;
    const under: Shield = {
      ...{ heightMm: 500, azimuthDeg: 15 },
      outline: [110, 180].map((radiusMm) => ({ radiusMm, halfAngleDeg: 5 })),
    };
    // The ray of the last place crosses the sheet 2/7 · 250 + 5/7 · 100 = 142.9 mm from the axis, straight before the source.
    const shaded = depositOn({ ...ask, shields: [under] }).perMassPerMm2;
    expect(shaded).toEqual([...bare.slice(0, 3), 0]);
    expect(bare[3]).toBeGreaterThan(0);
    const first = { ...ask, pointsDeg: ask.pointsDeg.toReversed(), shields: [under] };
    expect(() => depositOn(first)).toThrow(
      'points[0]: nothing arrives there, so the others cannot be compared to it',
    );
  });
});
