import { describe, expect, it } from 'vitest';
import { type DepositRequest, depositOn } from '../../src/chamber/deposit.ts';
import type { Motion } from '../../src/chamber/motion.ts';
import { gaussLegendre } from '../../src/math/gauss-legendre.ts';
import { bruteForce } from './brute-force-deposit.ts';

const source = { offsetMm: 250, exponent: 2 };
const planetary = { kind: 'planetary', carrierRadiusMm: 320, heightMm: 700, tiltDeg: 18 } as const;

// Closed forms: L. Holland & W. Steckelmacher, Vacuum 2 (1952) 346-364, formulas from memory of the classical
// treatment.
describe('the film on a rack', () => {
  it('at rest over a source on its axis falls as (1 + (r/h)^2)^-(n+3)/2', () => {
    for (const exponent of [0, 1, 2, 3.7]) {
      const points = [0, 100, 250, 500];
      const { perMassPerMm2, relative } = depositOn({
        source: { offsetMm: 0, exponent },
        motion: { kind: 'fixed', heightMm: 500 },
        points,
      });
      points.forEach((r, index) => {
        expect(relative[index]).toBeCloseTo((1 + (r / 500) ** 2) ** (-(exponent + 3) / 2), 13);
      });
      expect(perMassPerMm2[0]).toBeCloseTo((exponent + 1) / (2 * Math.PI * 500 ** 2), 18);
    }
  });

  it('at rest is thickest where it is straight above the source', () => {
    const at = { source, motion: { kind: 'fixed', heightMm: 500 }, points: [250, 200, 300] } as const;
    const { relative } = depositOn(at);
    expect(relative[1]).toBeCloseTo(relative[2]!, 13);
    expect(relative[1]).toBeLessThan(1);
  });

  it('turning over a small flat source is h^2 A / (pi (A^2 - B^2)^1.5)', () => {
    for (const [h, offset] of [
      [500, 250],
      [120, 300],
      [1000, 10],
    ] as const) {
      const points = [0, 80, 300, 420];
      const { perMassPerMm2 } = depositOn({
        source: { offsetMm: offset, exponent: 1 },
        motion: { kind: 'rotating', heightMm: h },
        points,
      });
      points.forEach((r, index) => {
        const a = h * h + r * r + offset * offset;
        const b = 2 * r * offset;
        expect(perMassPerMm2[index]! / ((h * h * a) / (Math.PI * (a * a - b * b) ** 1.5))).toBeCloseTo(1, 12);
      });
    }
  });

  it('inside a sphere through the source follows cos^(n-1) φ, even for a small flat source', () => {
    const points = [0, 100, 250, 400, 499];
    for (const exponent of [1, 2, 3]) {
      const { perMassPerMm2 } = depositOn({
        source: { offsetMm: 0, exponent },
        motion: { kind: 'dome', radiusMm: 500, centreHeightMm: 500 },
        points,
      });
      points.forEach((r, index) => {
        const height = 500 + Math.sqrt(500 ** 2 - r * r);
        const cosPhi = height / Math.hypot(height, r);
        const expected = ((exponent + 1) * cosPhi ** (exponent - 1)) / (8 * Math.PI * 500 ** 2);
        expect(perMassPerMm2[index]! / expected).toBeCloseTo(1, 12);
      });
    }
    // 1 g of density 2.2 in a sphere of 50 cm radius: 144.6863 nm everywhere (computed outside this program).
    const even = depositOn({
      source: { offsetMm: 0, exponent: 1 },
      motion: { kind: 'dome', radiusMm: 500, centreHeightMm: 500 },
      points: [333],
    });
    expect((even.perMassPerMm2[0]! / 2.2e-3) * 1e6).toBeCloseTo(144.6863, 4);
  });

  it('over a closed surface adds up to the mass sent out', () => {
    for (const exponent of [1, 2.5]) {
      for (const [centreHeightMm, offsetMm] of [
        [0, 0],
        [0, 310],
        [-150, 200],
        // The sphere's own foot stands on the level of the source: the whole upper half space is closed in.
        [-400, 120],
      ] as const) {
        const radiusMm = 500;
        const opening = Math.acos(-centreHeightMm / radiusMm);
        const { nodes, weights } = gaussLegendre(48);
        const angles = Array.from(nodes, (node) => (opening * (1 + node)) / 2);
        const { perMassPerMm2 } = depositOn({
          source: { offsetMm, exponent },
          motion: { kind: 'dome', radiusMm, centreHeightMm },
          points: angles.map((angle) => radiusMm * Math.sin(angle)),
        });
        const mass = perMassPerMm2.reduce(
          (sum, fraction, index) =>
            sum +
            fraction *
              2 *
              Math.PI *
              radiusMm ** 2 *
              Math.sin(angles[index]!) *
              ((weights[index]! * opening) / 2),
          0,
        );
        expect(mass).toBeCloseTo(1, 5);
      }
    }
  });

  it('of a planet without tilt, on the axis of the carrier, is that of a turning rack', () => {
    const points = [0, 90, 140];
    const planet = depositOn({ source, motion: { ...planetary, carrierRadiusMm: 0, tiltDeg: 0 }, points });
    const rack = depositOn({ source, motion: { kind: 'rotating', heightMm: 700 }, points });
    planet.perMassPerMm2.forEach((value, index) => {
      expect(value / rack.perMassPerMm2[index]!).toBeCloseTo(1, 12);
    });
  });

  it('of a planet that does not turn is that of a turning rack further out', () => {
    const still = depositOn({
      source,
      motion: { ...planetary, tiltDeg: 0, gearRatio: 0, carrierTurns: 1 },
      points: [0, 100],
    });
    const rack = depositOn({ source, motion: { kind: 'rotating', heightMm: 700 }, points: [320, 420] });
    still.perMassPerMm2.forEach((value, index) => {
      expect(value / rack.perMassPerMm2[index]!).toBeCloseTo(1, 10);
    });
  });

  it('of a planet with a finite gear ratio comes to the free mean as its turns grow', () => {
    const free = depositOn({ source, motion: planetary, points: [0, 60, 150] });
    const close = depositOn({ source, motion: { ...planetary, gearRatio: 127 / 64 }, points: [0, 60, 150] });
    free.perMassPerMm2.forEach((value, index) => {
      expect(close.perMassPerMm2[index]! / value).toBeCloseTo(1, 10);
    });
    const few = depositOn({
      source,
      motion: { ...planetary, gearRatio: 1, carrierTurns: 40 },
      points: [0, 60, 150],
    });
    expect(Math.abs(few.relative[2]! - free.relative[2]!)).toBeGreaterThan(1e-3);
  });

  const motions: [string, Motion][] = [
    ['rotating', { kind: 'rotating', heightMm: 400 }],
    ['dome', { kind: 'dome', radiusMm: 600, centreHeightMm: 100 }],
    ['dome seen from outside', { kind: 'dome', radiusMm: 240, centreHeightMm: 20 }],
    ['planetary', planetary],
    ['planetary, turned away at times', { ...planetary, tiltDeg: 75, heightMm: 500 }],
    ['planetary with gears, on a closed path', { ...planetary, gearRatio: 2.5, carrierTurns: 4 }],
    ['planetary with gears', { ...planetary, gearRatio: 2.3, carrierTurns: 3.4, startDeg: 25 }],
    [
      'planetary with gears, turned away at times',
      { ...planetary, tiltDeg: -60, gearRatio: -0.7, carrierTurns: 2 },
    ],
  ];

  it.each(motions)('agrees with a plain sum over the motion: %s', (_, motion) => {
    const request: DepositRequest = {
      source: { offsetMm: 250, exponent: 2 },
      motion,
      points: [0, 100],
      lens: { seatRadiusMm: 80, radiusOfCurvatureMm: 60, convex: true, points: [0, 15, 28] },
    };
    for (const convex of [true, false]) {
      const asked = { ...request, lens: { ...request.lens!, convex } };
      const answer = depositOn(asked);
      const plain = bruteForce(asked, 240);
      const compare = (values: readonly number[], sums: readonly number[], name: string) =>
        values.forEach((value, index) => {
          const scale = Math.max(...sums);
          expect(Math.abs(value - sums[index]!) / scale, `${name} ${index} ${convex}`).toBeLessThan(3e-4);
        });
      compare(answer.perMassPerMm2, plain.points, 'point');
      compare(answer.lens!.perMassPerMm2, plain.lens, 'lens');
    }
  });
});

describe('the film on a lens', () => {
  const at = { seatRadiusMm: 90, radiusOfCurvatureMm: 40, convex: true, points: [0, 12, 20] };

  it('of no curvature is that of the rack', () => {
    const flat = depositOn({
      source,
      motion: planetary,
      points: [90, 102, 110],
      lens: { ...at, radiusOfCurvatureMm: 1e7 },
    });
    flat.lens!.perMassPerMm2.forEach((value, index) => {
      expect(value / flat.perMassPerMm2[index]!).toBeCloseTo(1, 5);
    });
  });

  it('thins towards the edge of a steep face, more than the cosine of its slope says', () => {
    const { lens } = depositOn({ source, motion: planetary, points: [90], lens: at });
    expect(lens!.relative[0]).toBe(1);
    expect(lens!.relative[2]).toBeGreaterThan(0.7);
    expect(lens!.relative[2]).toBeLessThan(Math.cos(Math.asin(20 / 40)));
  });

  it('behind the lip of its holder is thinner, most at the edge, and unchanged where the lip lies behind its edge', () => {
    const bare = depositOn({ source, motion: planetary, points: [90], lens: at });
    const rim = (heightMm: number) =>
      depositOn({
        source,
        motion: planetary,
        points: [90],
        lens: { ...at, rim: { openingMm: 41, heightMm } },
      });
    const edgeBehindVertexMm = 40 - Math.sqrt(40 ** 2 - 20 ** 2);
    rim(-edgeBehindVertexMm - 0.01).lens!.relative.forEach((value, point) => {
      expect(value).toBeCloseTo(bare.lens!.relative[point]!, 12);
    });
    const low = rim(1).lens!.relative;
    const high = rim(4).lens!.relative;
    expect(low[2]).toBeLessThan(bare.lens!.relative[2]!);
    expect(high[2]).toBeLessThan(low[2]!);
    expect(high[1]).toBeGreaterThan(high[2]!);
  });
});

describe('the direction of a point', () => {
  // Closed form of the plane over a cos^n source: (n+1) h^(n+1) / (2 pi (h^2 + d^2)^((n+3)/2)), d from the source's foot.
  it('counts on a rack at rest, by its distance from the source (Holland & Steckelmacher 1952)', () => {
    const deg = [0, 40, 180, -90];
    const { perMassPerMm2 } = depositOn({
      source: { ...source, azimuthDeg: 40 },
      motion: { kind: 'fixed', heightMm: 500 },
      points: deg.map(() => 120),
      pointsDeg: deg,
    });
    deg.forEach((direction, index) => {
      const angle = ((direction - 40) * Math.PI) / 180;
      const squared = 250 ** 2 + 120 ** 2 - 2 * 250 * 120 * Math.cos(angle) + 500 ** 2;
      const expected = (3 * 500 ** 3) / (2 * Math.PI * squared ** 2.5);
      expect(perMassPerMm2[index]! / expected).toBeCloseTo(1, 12);
    });
  });

  it('is where a geared planet has turned it by at the start, and nothing to free planets, turning racks and domes', () => {
    const geared = { ...planetary, gearRatio: 2 } as const;
    const [turned] = depositOn({ source, motion: geared, points: [150], pointsDeg: [35] }).perMassPerMm2;
    const [begun] = depositOn({ source, motion: { ...geared, startDeg: 35 }, points: [150] }).perMassPerMm2;
    expect(turned! / begun!).toBeCloseTo(1, 9);
    const [straight] = depositOn({ source, motion: geared, points: [150] }).perMassPerMm2;
    expect(Math.abs(turned! / straight! - 1)).toBeGreaterThan(1e-3);
    for (const motion of [
      planetary,
      { kind: 'rotating', heightMm: 400 } as const,
      { kind: 'dome', radiusMm: 600, centreHeightMm: 100 } as const,
    ]) {
      const { relative } = depositOn({ source, motion, points: [150, 150], pointsDeg: [0, 77] });
      expect(relative[1]).toBeCloseTo(1, 12);
    }
  });

  it('on a flat lens leads to the points of its rack that lie there', () => {
    const seat = { seatRadiusMm: 90, radiusOfCurvatureMm: 1e7, convex: true };
    const pointsDeg = [0, 90, 180, 270, 60];
    const { lens, perMassPerMm2 } = depositOn({
      source,
      motion: planetary,
      points: pointsDeg.map((deg) => Math.sqrt(90 ** 2 + 20 ** 2 + 3600 * Math.cos((deg * Math.PI) / 180))),
      lens: { ...seat, points: pointsDeg.map(() => 20), pointsDeg },
    });
    lens!.perMassPerMm2.forEach((value, index) => {
      expect(value / perMassPerMm2[index]!).toBeCloseTo(1, 5);
    });
  });

  it('around a lens behind a lip gives the shadow of a plain sum over the turn', () => {
    // A level rack, so that the ray is short to write: the lip is a circle of 21 mm radius, 5 mm below the flat face.
    const pointsDeg = [0, 90, 180, 230];
    const { lens } = depositOn({
      source,
      motion: { kind: 'rotating', heightMm: 400 },
      points: [],
      lens: {
        seatRadiusMm: 90,
        radiusOfCurvatureMm: 1e7,
        convex: true,
        points: pointsDeg.map(() => 20),
        pointsDeg,
        rim: { openingMm: 42, heightMm: 5 },
      },
    });
    const steps = 40_000;
    pointsDeg.forEach((deg, index) => {
      const [px, py] = [90 + 20 * Math.cos((deg * Math.PI) / 180), 20 * Math.sin((deg * Math.PI) / 180)];
      let sum = 0;
      for (let step = 0; step < steps; step++) {
        const turn = (2 * Math.PI * (step + 0.5)) / steps;
        const [dx, dy] = [250 * Math.cos(turn) - px, 250 * Math.sin(turn) - py];
        const [atX, atY] = [px + (dx * 5) / 400 - 90, py + (dy * 5) / 400];
        if (Math.hypot(atX, atY) < 21)
          sum += (3 * 400 ** 3) / (2 * Math.PI) / (dx * dx + dy * dy + 400 ** 2) ** 2.5;
      }
      expect(lens!.perMassPerMm2[index]! / (sum / steps)).toBeCloseTo(1, 4);
    });
  });
});

describe('sources that fire together', () => {
  const second = { source: { offsetMm: 120, exponent: 1, azimuthDeg: 150 }, share: 0.3 };
  const lens = { seatRadiusMm: 90, radiusOfCurvatureMm: 40, convex: true, points: [0, 20] };

  it('give the sum of their films, by their parts of the mass', () => {
    const request = { motion: planetary, points: [0, 100], lens };
    const both = depositOn({ ...request, source, alongside: [second] });
    const [one, other] = [
      depositOn({ ...request, source }),
      depositOn({ ...request, source: second.source }),
    ];
    both.perMassPerMm2.forEach((value, index) => {
      expect(value).toBeCloseTo(0.7 * one.perMassPerMm2[index]! + 0.3 * other.perMassPerMm2[index]!, 15);
    });
    both.lens!.perMassPerMm2.forEach((value, index) => {
      expect(value).toBeCloseTo(
        0.7 * one.lens!.perMassPerMm2[index]! + 0.3 * other.lens!.perMassPerMm2[index]!,
        15,
      );
    });
  });

  it('are refused where their parts leave nothing for the first or a sheet in the way of one hangs too high', () => {
    const request = { source, motion: planetary, points: [100] };
    expect(() => depositOn({ ...request, alongside: [second, { ...second, share: 0.7 }] })).toThrow(
      'alongside: shares of 1 in all leave nothing for the first source',
    );
    expect(() => depositOn({ ...request, alongside: [{ ...second, share: 1 }] })).toThrow(
      'alongside[0].share: 1 is not below 1',
    );
    const outline = [
      { radiusMm: 20, halfAngleDeg: 5 },
      { radiusMm: 300, halfAngleDeg: 5 },
    ];
    const shields = [{ heightMm: 690, azimuthDeg: 0, outline }];
    expect(() => depositOn({ ...request, alongside: [{ ...second, shields }] })).toThrow(
      'alongside[0].shields[0].heightMm: 690 mm is not below',
    );
  });
});

describe('a request that makes no sense is refused', () => {
  const sound: DepositRequest = { source, motion: planetary, points: [0, 100] };
  it.each([
    [{ motion: { ...planetary, heightMm: -700 } }, 'motion.heightMm: -700 mm is below 1 mm'],
    [
      { motion: { ...planetary, tiltDeg: 80, heightMm: 90 } },
      'points[1]: 100 mm from the axis the rack dips to -8.48078 mm, not above the source at 0 mm',
    ],
    [
      { motion: { kind: 'dome', radiusMm: 50, centreHeightMm: 100 } as const },
      'points[1]: 100 mm is above 50 mm',
    ],
    [
      { motion: { ...planetary, carrierTurns: 3 } },
      'motion.carrierTurns: means nothing without motion.gearRatio',
    ],
    [{ source: { offsetMm: -1, exponent: 1 } }, 'source.offsetMm: -1 mm is below 0 mm'],
    [
      { lens: { seatRadiusMm: 50, radiusOfCurvatureMm: 30, convex: true, points: [31] } },
      'lens.points[0]: 31 mm is above 30 mm',
    ],
    [{ pointsDeg: [0] }, 'pointsDeg: 1 directions stand against 2 points'],
    [{ pointsDeg: [0, 4000] }, 'pointsDeg[1]: 4000 ° is above 3600 °'],
    [
      { motion: { kind: 'dome', radiusMm: 500, centreHeightMm: -100 } as const, points: [499.9999, 100] },
      'points[0]: nothing arrives there',
    ],
  ])('%o', (change, sentence) => {
    expect(() => depositOn({ ...sound, ...change })).toThrow(sentence);
  });
});
