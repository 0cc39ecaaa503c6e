import { describe, expect, it } from 'vitest';
import type { Element } from '../../src/chamber/element.ts';
import { isShaded, requireShield, type Shield, shadeAt, shieldShape } from '../../src/chamber/shield.ts';
import { crossingRadii } from '../../src/chamber/shield-reach.ts';

const RAD = Math.PI / 180;

function sheet(points: readonly (readonly [number, number])[], azimuthDeg = 0): Shield {
  const outline = points.map(([radiusMm, halfAngleDeg]) => ({ radiusMm, halfAngleDeg }));
  return { heightMm: 450, azimuthDeg, outline };
}

/** A level element that looks down, at so much from the axis in so many degrees. */
function element(radius: number, deg: number, z = 900): Element {
  const [x, y] = [radius * Math.cos(deg * RAD), radius * Math.sin(deg * RAD)];
  return { x, y, z, nx: 0, ny: 0, nz: -1 };
}

describe('the shape of a shield', () => {
  it('follows the natural cubic spline through its points and never spans less than nothing', () => {
    // By hand: through (0, 0), (1, 1), (2, 0) the bend at the middle is −3, so a quarter of the way it stands at 11/16.
    const arch = shieldShape(
      sheet([
        [100, 0],
        [200, 10],
        [300, 0],
      ]),
    );
    expect(arch.halfAngleAt(150)).toBeCloseTo(6.875 * RAD, 12);
    expect(arch.halfAngleAt(200)).toBeCloseTo(10 * RAD, 12);
    const swinging = shieldShape(
      sheet([
        [100, 20],
        [200, 0],
        [300, 0],
        [400, 20],
      ]),
    );
    expect(swinging.halfAngleAt(250)).toBe(0);
  });

  it('never spans more than 1.28 times its widest point, however steep it starts', () => {
    // By hand: through (0, 0), (1, 1), (5, 1) the bend at the middle is −3/5, so half of the way on the spline stands at 2.2.
    const steep = shieldShape(
      sheet([
        [100, 0],
        [101, 100],
        [105, 100],
      ]),
    );
    expect(steep.widest).toBeCloseTo(130 * RAD, 12);
    expect(steep.halfAngleAt(103)).toBeCloseTo(128 * RAD, 12);
    expect(steep.halfAngleAt(101)).toBeCloseTo(100 * RAD, 12);
  });

  it('tells its ends, its middle and an angle that it nowhere exceeds, nor falls far short of', () => {
    const shape = shieldShape(
      sheet(
        [
          [120, 5],
          [200, 40],
          [280, 40],
          [400, 10],
        ],
        -30,
      ),
    );
    expect([shape.height, shape.inner, shape.outer]).toEqual([450, 120, 400]);
    expect(shape.middle).toBeCloseTo(-30 * RAD, 12);
    const angles = Array.from({ length: 281 }, (_, step) => shape.halfAngleAt(120 + step));
    expect(Math.max(...angles)).toBeGreaterThan(40 * RAD);
    expect(shape.widest).toBeGreaterThanOrEqual(Math.max(...angles));
    expect(shape.widest).toBeLessThan(1.5 * Math.max(...angles));
  });
});

describe('a shield', () => {
  it('is named by its place in the request, its own name where none is given', () => {
    expect(() => requireShield({ ...sheet([[10, 5]]) })).toThrow(
      /^shield\.outline: has 1 points; it needs at least 2$/,
    );
    const falling = sheet([
      [10, 5],
      [20, 5],
      [20, 5],
    ]);
    expect(() => requireShield(falling, 'shields[3]')).toThrow(
      /^shields\[3\]\.outline\[2\]\.radiusMm: 20 mm is not above 20 mm$/,
    );
    expect(() =>
      requireShield(
        sheet([
          [0, 0],
          [10, 120],
        ]),
      ),
    ).not.toThrow();
  });
});

describe('the depth in the shadow of a shield', () => {
  // Over a source on the axis the ray to a place at 900 mm crosses the level of 450 mm at half of the place's radius.
  const centred = { offsetMm: 0, exponent: 1 };
  const plain = shieldShape(
    sheet(
      [
        [100, 15],
        [250, 15],
      ],
      5,
    ),
  );

  it.each([
    ['the side that is nearer', 340, 0, 10 * RAD],
    ['the other side', 340, 12, 8 * RAD],
    ['beside it', 340, 25, -5 * RAD],
    ['the inner end', 240, 5, 20 / 250],
    ['inside of the inner end', 160, 5, -20 / 250],
    ['the outer end', 460, 5, 20 / 250],
    ['outside of the outer end', 550, 5, -25 / 250],
    ['a turn further', 340, 360 - 8, 2 * RAD],
  ])('is what lies between the ray and %s', (_, radius, deg, depth) => {
    expect(shadeAt(plain, centred, element(radius, deg), 0)).toBeCloseTo(depth, 12);
    expect(isShaded([plain], centred, element(radius, deg))).toBe(depth > 0);
  });

  it('turns with the source, wherever that stands', () => {
    for (const azimuthDeg of [0, 40, -200])
      for (const turn of [0, 70, 190, -310]) {
        const source = { ...centred, azimuthDeg };
        // The shield keeps its place beside the source, which has been turned by so much from where it stands.
        const depth = shadeAt(plain, source, element(340, turn - azimuthDeg), turn * RAD);
        expect(depth).toBeCloseTo(10 * RAD, 12);
      }
  });

  it('is reckoned from the source’s own height and offset', () => {
    // The source at (200, 0, 100), the place at (600, 0, 900): at the level of 500 the ray stands half way, at 400.
    const source = { offsetMm: 200, exponent: 1, heightMm: 100 };
    const high = {
      ...sheet([
        [300, 8],
        [500, 8],
      ]),
      heightMm: 500,
    };
    expect(shadeAt(shieldShape(high), source, element(600, 0), 0)).toBeCloseTo(8 * RAD, 12);
    const narrow = {
      ...sheet([
        [300, 80],
        [450, 80],
      ]),
      heightMm: 500,
    };
    expect(shadeAt(shieldShape(narrow), source, element(600, 0), 0)).toBeCloseTo(50 / 450, 12);
    expect(isShaded([shieldShape(high)], { ...source, azimuthDeg: 90 }, element(600, 90))).toBe(false);
    expect(
      isShaded([shieldShape({ ...high, azimuthDeg: 90 })], { ...source, azimuthDeg: 90 }, element(600, 90)),
    ).toBe(true);
  });

  it('is none where the sheet does not hang between source and place', () => {
    const source = { ...centred, heightMm: 450 };
    for (const [from, z] of [
      [source, 900],
      [{ ...centred, heightMm: 500 }, 900],
      [centred, 450],
      [centred, 400],
    ] as const) {
      expect(shadeAt(plain, from, element(170, 5, z), 0)).toBe(-1);
      expect(isShaded([plain], from, element(170, 5, z))).toBe(false);
    }
    expect(isShaded([], centred, element(340, 0))).toBe(false);
  });
});

describe('the distances from the axis at which rays to a zone cross a level', () => {
  const reach = (
    source: { offsetMm: number; azimuthDeg?: number; heightMm?: number },
    motion: Parameters<typeof crossingRadii>[1],
    zone: readonly [number, number] = [100, 300],
    azimuthDeg = 0,
  ) => {
    const [fromMm, toMm] = zone;
    const { inner, outer } = crossingRadii(
      [{ exponent: 1, ...source }],
      motion,
      toMm,
      fromMm,
      600,
      azimuthDeg,
    );
    return [inner, outer];
  };
  const expectReach = (found: readonly number[], inner: number, outer: number) => {
    expect(found[0]).toBeCloseTo(inner, 9);
    expect(found[1]).toBeCloseTo(outer, 9);
  };
  const rack = { kind: 'rotating', heightMm: 800 } as const;

  it('are over a centred source the same part of the zone’s own', () => {
    expectReach(reach({ offsetMm: 0 }, rack), 75, 225);
    // From 200 to 600 of 200 to 1000 is half of the way.
    expectReach(reach({ offsetMm: 0, heightMm: 200 }, { ...rack, heightMm: 1000 }), 50, 150);
  });

  it('are drawn out by an offset source, nearest 60 degrees from it and farthest straight above it', () => {
    // A quarter of 200 and three quarters of 100 to 300: 125 to 275 in line, by the law of cosines at 60 degrees.
    const arm = 50;
    const askew = (turning: number, deg: number) =>
      Math.sqrt(arm ** 2 + turning ** 2 + 2 * arm * turning * Math.cos(deg * RAD));
    expectReach(reach({ offsetMm: 200 }, rack), askew(75, 60), 275);
    expectReach(reach({ offsetMm: 200, azimuthDeg: 70 }, rack, [100, 300], 70), askew(75, 60), 275);
    expectReach(reach({ offsetMm: 200 }, rack, [100, 300], 180), 25, askew(225, 120));
    // Aside of the source the sector reaches from 30 to 150 degrees.
    expectReach(reach({ offsetMm: 200 }, rack, [100, 300], 90), askew(75, 150), askew(225, 30));
  });

  it('hold for every source', () => {
    const found = crossingRadii(
      [
        { exponent: 1, offsetMm: 0 },
        { exponent: 1, offsetMm: 200 },
      ],
      rack,
      300,
      100,
      600,
      0,
    );
    expectReach([found.inner, found.outer], 75, 275);
  });

  it('follow the places of a dome by their own height', () => {
    // On a sphere of 1000 about the level of the source, 600 mm out: 800 high, so that three quarters lie below.
    expectReach(
      reach({ offsetMm: 0 }, { kind: 'dome', radiusMm: 1000, centreHeightMm: 0 }, [600, 600]),
      450,
      450,
    );
    const raised = { kind: 'dome', radiusMm: 1000, centreHeightMm: 200 } as const;
    expectReach(reach({ offsetMm: 0 }, raised, [0, 600]), 0, 360);
  });

  it('follow the places of a planet all round', () => {
    const planet = { kind: 'planetary', carrierRadiusMm: 400, heightMm: 800, tiltDeg: 0 } as const;
    expectReach(reach({ offsetMm: 0 }, planet, [0, 160]), 180, 420);
    // Leaning by 30 degrees: the inner edge 80 mm higher, 400 − 80 √3 out; the outer 80 mm lower, 400 + 80 √3 out.
    const leaning = { ...planet, tiltDeg: 30 };
    const out = 80 * Math.sqrt(3);
    expectReach(
      reach({ offsetMm: 0 }, leaning, [0, 160]),
      (600 / 880) * (400 - out),
      (600 / 720) * (400 + out),
    );
  });
});
