import { describe, expect, it } from 'vitest';
import { hung, turned } from '../../src/chamber/element.ts';
import { type CurvedLens, lensSeat, lensSight, requireLens } from '../../src/chamber/lens-surface.ts';
import { Random } from '../../src/math/random.ts';

type Vector = readonly [number, number, number];
const dot = (a: Vector, b: Vector) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const add = (a: Vector, b: Vector, times: number): Vector => [
  a[0] + times * b[0],
  a[1] + times * b[1],
  a[2] + times * b[2],
];

const lens: CurvedLens = { seatRadiusMm: 0, radiusOfCurvatureMm: 40, convex: true };

describe('the face of a lens', () => {
  it('lies on its sphere, bulging towards the vapour or away from it, its normal pointing along the radius', () => {
    for (const convex of [true, false])
      for (const radiusMm of [0, 12, 24, 40]) {
        const seat = lensSeat({ ...lens, convex }, radiusMm);
        // By Pythagoras: the sphere's centre lies 40 behind the vertex of a convex face, 40 ahead of a concave one.
        const rise = Math.sqrt(40 ** 2 - radiusMm ** 2);
        const sign = convex ? 1 : -1;
        expect([seat.along, seat.aside, seat.normalAside]).toEqual([radiusMm, 0, 0]);
        expect(seat.ahead).toBeCloseTo(sign * (rise - 40), 12);
        expect(seat.normalAlong).toBeCloseTo((sign * radiusMm) / 40, 12);
        expect(seat.normalAhead).toBeCloseTo(rise / 40, 12);
      }
    // The sag s²/2R of a hardly curved face keeps all its digits.
    expect(lensSeat({ ...lens, radiusOfCurvatureMm: 1e7 }, 1).ahead / -5e-8).toBeCloseTo(1, 12);
  });
});

describe('what hides the source from a lens', () => {
  const rim = { openingMm: 46, heightMm: 6 };
  it('is nothing for a convex face, a point in the middle of a concave one, and neither with a lip', () => {
    expect(lensSight(lens, [0, 20])).toBeUndefined();
    expect(lensSight({ ...lens, convex: false }, [0])).toBeUndefined();
    expect(lensSight({ ...lens, convex: false }, [])).toBeUndefined();
    expect(lensSight({ ...lens, convex: false }, [20])).toBeDefined();
    expect(lensSight({ ...lens, convex: false, diameterMm: 44 }, [0])).toBeDefined();
    expect(lensSight({ ...lens, rim }, [0])).toBeDefined();
    expect(lensSight({ ...lens, convex: false, rim }, [0])).toBeDefined();
  });

  const cases: [string, CurvedLens][] = [
    ['a convex face behind a lip', { ...lens, rim }],
    ['a convex face behind a lip behind its vertex', { ...lens, rim: { openingMm: 46, heightMm: -2 } }],
    ['a concave face', { ...lens, radiusOfCurvatureMm: 26, convex: false }],
    [
      'a concave face that ends further out',
      { ...lens, convex: false, radiusOfCurvatureMm: 26, diameterMm: 50 },
    ],
    ['a concave half ball', { ...lens, convex: false, radiusOfCurvatureMm: 22, diameterMm: 44 }],
    ['a concave face behind a lip', { ...lens, convex: false, rim: { openingMm: 50, heightMm: 9 } }],
  ];
  it.each(cases)('is the far side of the face or the lip, by vectors: %s', (_, one) => {
    const random = new Random(21);
    const points = [0, 9, 20];
    const edge = (one.diameterMm ?? 40) / 2;
    const hides = lensSight(one, points)!;
    let [seen, hidden] = [0, 0];
    for (let round = 0; round < 400; round++) {
      const hanging = { radius: 300, height: 500, tilt: 1.2 * (random.uniform() - 0.5) };
      const seat = turned(lensSeat(one, points[round % 3]!), 2 * Math.PI * random.uniform());
      const element = hung(seat, hanging);
      // Sources far and near, also some behind the plane of the lip.
      const from: Vector = [
        900 * (random.uniform() - 0.3),
        600 * (random.uniform() - 0.5),
        round % 4 === 0 ? 500 * random.uniform() : 490 * random.uniform(),
      ];
      const point: Vector = [element.x, element.y, element.z];
      const normal: Vector = [element.nx, element.ny, element.nz];
      const ray = add(from, point, -1);
      if (dot(ray, normal) <= 0) continue;
      const vertex: Vector = [300, 0, 500];
      const axis: Vector = [-Math.sin(hanging.tilt), 0, -Math.cos(hanging.tilt)];
      /** Signed distances from free sight, the least of which counts. */
      let free = Number.POSITIVE_INFINITY;
      if (one.rim !== undefined) {
        const before = one.rim.heightMm - dot(add(point, vertex, -1), axis);
        const climb = dot(ray, axis);
        if (before > 0 && climb <= 0) free = -1;
        else if (before > 0) {
          const through = add(point, ray, before / climb);
          const middle = add(vertex, axis, one.rim.heightMm);
          const off = add(through, middle, -1);
          free = one.rim.openingMm / 2 - Math.sqrt(dot(off, off));
        }
      }
      if (!one.convex) {
        const centre = add(vertex, axis, one.radiusOfCurvatureMm);
        const out = add(point, centre, -1);
        // Where |out + t ray| is the radius again: there the face stands in the way, if it reaches so far out and back.
        const t = (-2 * dot(out, ray)) / dot(ray, ray);
        const again = add(out, ray, t);
        const back = -dot(again, axis);
        const offAxis = Math.sqrt(Math.max(0, dot(again, again) - back ** 2));
        if (t < 1 && back > 0) free = Math.min(free, offAxis - edge);
      }
      if (Math.abs(free) < 1e-6) continue;
      const sight = hides(seat, hanging)(element, ...from);
      if (free > 0) seen++;
      else hidden++;
      expect(sight > 0, `round ${round}: ${free}`).toBe(free > 0);
    }
    expect(Math.min(seen, hidden)).toBeGreaterThan(5);
  });
});

describe('a lens', () => {
  it('is taken up to the half ball, its points up to its edge, its lip from its edge on', () => {
    requireLens({ ...lens, diameterMm: 80, rim: { openingMm: 80, heightMm: -1000 } }, [0, 40]);
    requireLens({ ...lens, diameterMm: 48, rim: { openingMm: 10_000, heightMm: 1000 } }, [24]);
    requireLens({ ...lens, seatRadiusMm: 10_000, radiusOfCurvatureMm: 1e7 }, []);
    expect(() => requireLens({ ...lens, rim: { openingMm: 0, heightMm: 1 } }, [0])).toThrow(
      /^lens\.rim\.openingMm: the holder has no opening$/,
    );
    expect(() =>
      requireLens({ ...lens, rim: { openingMm: 10_001, heightMm: 1 } }, [0], 'order.lens'),
    ).toThrow(/^order\.lens\.rim\.openingMm: 10001 mm is above 10000 mm/);
    expect(() => requireLens({ ...lens, rim: { openingMm: 1, heightMm: -1001 } }, [0])).toThrow(
      'lens.rim.heightMm: -1001 mm is below -1000 mm',
    );
    expect(() => requireLens({ ...lens, seatRadiusMm: -1 }, [])).toThrow(
      'lens.seatRadiusMm: -1 mm is below 0 mm',
    );
    expect(() => requireLens(lens, [0, -1])).toThrow('lens.points[1]: -1 mm is below 0 mm');
  });
});
