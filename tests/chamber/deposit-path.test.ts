import { describe, expect, it } from 'vitest';
import { type DepositRequest, depositOn } from '../../src/chamber/deposit.ts';
import type { PlanetaryMotion } from '../../src/chamber/motion.ts';
import type { Shield } from '../../src/chamber/shield.ts';
import { changed, expectRefused } from '../support/refusals.ts';
import { bruteForce } from './brute-force-deposit.ts';

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

describe('the film along the path of gears', () => {
  const plain = { offsetMm: 250, exponent: 2 };
  it.each<[string, Partial<PlanetaryMotion>, number?]>([
    ['of a few tenths of a turn', { gearRatio: (1 + Math.sqrt(5)) / 2, carrierTurns: 0.4 }],
    ['of more than one round and a start', { gearRatio: 2.5, carrierTurns: 3.4, startDeg: 25 }],
    ['of whole rounds', { gearRatio: 1.5, carrierTurns: 6 }],
    ['of one round that closes', { gearRatio: -0.5, startDeg: -70 }, 2],
    ['of planets that turn backwards', { gearRatio: -0.7, carrierTurns: 1.2, tiltDeg: -12 }],
    ['of planets that turn away at times', { gearRatio: 1.3, carrierTurns: 2, tiltDeg: 75, heightMm: 500 }],
    ['of planets that do not turn', { gearRatio: 0, startDeg: 40 }, 1],
  ])('%s is what a plain sum over it gives, under a sheet and on a dished lens', (_, more, closing) => {
    const motion = { ...planet, ...more };
    const request = { source: plain, motion, points: [0, 110], lens };
    const carrierTurns = motion.carrierTurns ?? closing!;
    const asked = { ...request, motion: { ...motion, carrierTurns } };
    const bare = bruteForce(asked, 200);
    const found = depositOn(request);
    const scale = Math.max(...bare.points);
    bare.points.forEach((film, index) => {
      expect(Math.abs(found.perMassPerMm2[index]! - film) / scale).toBeLessThan(3e-4);
      expect(found.relative[index]).toBeCloseTo(film / bare.points[0]!, 2);
    });
    bare.lens.forEach((film, index) => {
      expect(Math.abs(found.lens!.perMassPerMm2[index]! - film) / scale).toBeLessThan(1e-3);
    });
    const lower = { ...sheet, heightMm: 300 };
    const shaded = depositOn({ ...request, shields: [lower] });
    bruteForce(asked, 200, lower).points.forEach((film, index) => {
      expect(Math.abs(shaded.perMassPerMm2[index]! - film) / scale).toBeLessThan(3e-3);
    });
  });
});

describe('the film on a lens', () => {
  it('is told against that of its vertex, whichever points are asked for', () => {
    const ask = { source, motion: planet, points: [], lens };
    const [vertex, edge] = depositOn(ask).lens!.perMassPerMm2;
    const alone = depositOn({ ...ask, lens: { ...lens, points: [20], diameterMm: 40 } });
    expect([alone.perMassPerMm2, alone.relative]).toEqual([[], []]);
    expect(alone.lens!.perMassPerMm2).toEqual([edge]);
    expect(alone.lens!.relative[0]).toBeCloseTo(edge! / vertex!, 12);
  });
});

describe('the sources of a film', () => {
  it('share the mass between them, each with its own sheets in its way', () => {
    const second = { source: { offsetMm: 120, exponent: 1, azimuthDeg: 150 }, share: 0.3, shields: [sheet] };
    const third = { source: { offsetMm: 200, exponent: 3 }, share: 0.2 };
    const motion = { kind: 'rotating', heightMm: 700 } as const;
    const film = (one: Partial<DepositRequest>) =>
      depositOn({ source, motion, points: [100], ...one }).perMassPerMm2[0]!;
    expect(film({ alongside: [second, third] })).toBeCloseTo(
      0.5 * film({}) +
        0.3 * film({ source: second.source, shields: [sheet] }) +
        0.2 * film({ source: third.source }),
      15,
    );
  });
});

describe('a rack that is asked for its film', () => {
  const rack = { kind: 'rotating', heightMm: 400 } as const;
  expectRefused([
    ...changed<DepositRequest>(
      { source, motion: rack, points: [0, 100], lens },
      depositOn,
      [
        { source: { ...source, heightMm: 400 } },
        'points[0]: 0 mm from the axis the rack dips to 400 mm, not above the source at 400 mm',
      ],
      [
        { shields: [{ ...sheet, heightMm: 400 }] },
        'shields[0].heightMm: 400 mm is not below 400 mm, to which the rack comes down at points[0]',
      ],
      [
        { motion: planet, points: [], shields: [{ ...sheet, heightMm: 690 }] },
        'shields[0].heightMm: 690 mm is not below 681.459 mm, to which the rack comes down at lens.seatRadiusMm',
      ],
      [
        {
          motion: { kind: 'dome', radiusMm: 400, centreHeightMm: 100 },
          lens: { ...lens, seatRadiusMm: 401 },
        },
        'lens.seatRadiusMm: 401 mm is above 400 mm',
      ],
      [{ pointsDeg: [0] }, 'pointsDeg: 1 directions stand against 2 points'],
      [{ pointsDeg: [0, -3601] }, 'pointsDeg[1]: -3601 ° is below -3600 °'],
      [{ lens: { ...lens, pointsDeg: [0, 3601] } }, 'lens.pointsDeg[1]: 3601 ° is above 3600 °'],
      [{ points: [-1] }, 'points[0]: -1 mm is below 0 mm'],
      [{ alongside: [{ source, share: 0 }] }, 'alongside[0].share: 0 is not above 0'],
      [
        { alongside: [0.5, 0.5].map((share) => ({ source, share })) },
        'alongside: shares of 1 in all leave nothing for the first source',
      ],
      [
        { alongside: [{ source, share: 0.5, shields: [sheet, { ...sheet, azimuthDeg: 361 }] }] },
        'alongside[0].shields[1].azimuthDeg: 361 ° is above 360 °',
      ],
    ),
  ]);
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
