import { describe, expect, it } from 'vitest';
import { type Element, flatSeat, hung, turned } from '../../src/chamber/element.ts';
import { type ShieldShape, shadeAt, shieldShape } from '../../src/chamber/shield.ts';
import { shadedOverPath, shadedOverPlanet, shadedOverTurn } from '../../src/chamber/shield-shadow.ts';
import { shadowSpans } from '../../src/chamber/shield-spans.ts';
import type { Sight } from '../../src/chamber/sight.ts';
import { arrivalAt, clearanceAt, type VapourSource } from '../../src/chamber/vapour-source.ts';
import { integrate } from '../../src/math/integrate.ts';

const TURN = 2 * Math.PI;
const RAD = Math.PI / 180;

function sheet(
  [inner, outer]: readonly [number, number],
  halfAngleDeg: number,
  azimuthDeg: number,
  heightMm = 500,
): ShieldShape {
  return shieldShape({
    ...{ heightMm, azimuthDeg },
    outline: [inner, (inner + outer) / 2, outer].map((radiusMm, index) => ({
      radiusMm,
      halfAngleDeg: halfAngleDeg * (index === 1 ? 1 : 0.8),
    })),
  });
}

/** A plain sum over `steps` equal steps, as a part of what arrives over the same way without sheets. */
function plainShare(
  shapes: readonly ShieldShape[],
  source: VapourSource,
  at: (part: number) => { element: Element; azimuth: number; sight?: Sight | undefined },
  steps: number,
): { shaded: number; bare: number } {
  let [shaded, bare] = [0, 0];
  for (let step = 0; step < steps; step++) {
    const { element, azimuth, sight } = at((step + 0.5) / steps);
    if (clearanceAt(source, element, azimuth, sight) <= 0) continue;
    const arrival = arrivalAt(source, element, azimuth);
    bare += arrival / steps;
    if (shapes.some((shape) => shadeAt(shape, source, element, azimuth) > 0)) shaded += arrival / steps;
  }
  return { shaded, bare };
}

const source = { offsetMm: 200, exponent: 2, azimuthDeg: 25 };
const level = (x: number, y = 0): Element => ({ x, y, z: 900, nx: 0, ny: 0, nz: -1 });

describe('what shields keep from a place that turns about the axis', () => {
  const whole = sheet([60, 300], 20, 40);
  const crossed = sheet([100, 400], 25, 60, 700);
  const beside = sheet([50, 350], 60, 200);
  const lean = { nx: Math.sin(1.3), ny: 0, nz: -Math.cos(1.3) };
  const raised = { ...source, heightMm: 120 };
  /** Seen only while the source stands to the right. */
  const rightOnly: Sight = (_element, x) => x / 200 - 0.9;

  it.each<{ name: string; shapes: ShieldShape[]; from?: VapourSource; element: Element; sight?: Sight }>([
    { name: 'one sheet', shapes: [whole], element: level(220, 130) },
    { name: 'two that overlap', shapes: [whole, crossed], element: level(220, 130) },
    { name: 'three, the first of them free', shapes: [beside, whole, crossed], element: level(-300, 40) },
    { name: 'two alike', shapes: [whole, whole], element: level(250) },
    { name: 'a leaning place turned away at times', shapes: [whole], element: { ...level(150), ...lean } },
    { name: 'near the axis', shapes: [whole], element: level(40, 10) },
    { name: 'two over the axis', shapes: [whole, beside], element: level(0) },
    { name: 'leaning near the axis', shapes: [whole], from: raised, element: { ...level(30), ...lean } },
    { name: 'the source hidden at times', shapes: [whole, crossed], element: level(260), sight: rightOnly },
    { name: 'a raised source', shapes: [crossed], from: raised, element: level(200) },
    { name: 'a narrow one near the axis', shapes: [sheet([20, 300], 4, 10)], element: level(60) },
  ])('is the part of their film for which a ray meets one: $name', (scene) => {
    const { shapes, from = source, element, sight } = scene;
    const facing = Math.atan2(element.y, element.x);
    const plain = plainShare(
      shapes,
      from,
      (part) => ({ element, azimuth: facing - TURN * part, sight }),
      8000,
    );
    const { shaded } = shadedOverTurn(shapes, from, element, sight);
    expect(plain.shaded / plain.bare).toBeGreaterThan(0.01);
    expect(Math.abs(shaded() - plain.shaded) / plain.bare).toBeLessThan(5e-4);
  });

  it('ends where a leaning place loses sight of the source, wherever it leans to', () => {
    const from = { offsetMm: 150, exponent: 2, heightMm: 150 };
    for (const [facing, towards] of [
      [45, 45],
      [45, 35],
      [-160, -150],
    ] as const) {
      const lean = 1.13;
      const element = {
        ...{ x: 220 * Math.cos(facing * RAD), y: 220 * Math.sin(facing * RAD), z: 900 },
        nx: Math.sin(lean) * Math.cos(towards * RAD),
        ny: Math.sin(lean) * Math.sin(towards * RAD),
        nz: -Math.cos(lean),
      };
      // N·(S − P) = 0: the source at this angle from the direction of the lean.
      const beyond = element.nx * element.x + element.ny * element.y + element.nz * 750;
      const horizon = Math.acos(beyond / (150 * Math.sin(lean)));
      const [first, last] = [facing - towards, facing - towards].map(
        (deg, index) => deg * RAD + (index === 0 ? -horizon : horizon),
      );
      const shape = sheet([20, 300], 30, 105);
      const { turns } = shadowSpans(shape, from, element)!;
      expect(turns[0]).toBeLessThan(last!);
      expect(turns[1]).toBeGreaterThan(last!);
      expect(turns[0]).toBeGreaterThan(first!);
      const expected = integrate(
        (turn) => arrivalAt(from, element, facing * RAD - turn),
        turns[0]!,
        last!,
        1e-13,
        8,
      );
      const { shaded } = shadedOverTurn([shape], from, element);
      expect(shaded() / (expected / TURN)).toBeCloseTo(1, 8);
    }
  });

  it('is nothing for a sheet of no width, one above the place and none at all', () => {
    for (const shapes of [[], [sheet([60, 300], 0, 40)], [sheet([60, 300], 20, 40, 950)]])
      for (const element of [level(220), level(10)])
        expect(shadedOverTurn(shapes, source, element).shaded()).toBe(0);
  });

  it('names the borders of each sheet’s shadow', () => {
    const turn = shadedOverTurn([whole, crossed, sheet([900, 950], 20, 0)], source, level(220, 130));
    expect(turn.borders).toMatch(/^[123]+\/[123]+\/$/);
    expect(shadedOverTurn([whole], source, level(10)).borders).toBe('');
  });
});

describe('what shields keep from a place that gears take along its path', () => {
  const shapes = [sheet([60, 300], 20, 40), sheet([120, 420], 30, -120, 600)];
  const tilt = 15 * RAD;
  it.each([
    ['a whole path', 300, 120, 2.5, 2, 0, 25],
    ['a few tenths of a turn', 300, 120, 2.5, 0.3, 10, 0],
    ['more than two turns backwards', 300, 120, -1.7, 2.6, 100, -200],
    ['a rack that reaches over the axis', 100, 160, 0.8, 3, 0, 340],
    ['a rack on the axis', 0, 180, 1.3, 1.4, 0, 60],
    ['a place in the middle of its rack', 300, 0, 4, 1.2, 0, 0],
    ['a rack that turns fast', 300, 120, 14, 1, 0, 25],
  ])(
    'is the part of its film for which a ray meets one: %s',
    (_, carrier, rack, speed, turns, start, deg) => {
      const from = { ...source, azimuthDeg: deg, heightMm: 40 };
      const azimuth = deg * RAD;
      const hanging = { radius: carrier, height: 900, tilt };
      const placed = (angle: number) => ({
        element: hung(turned(flatSeat(rack), start * RAD + speed * angle), hanging),
        sight: undefined,
      });
      const plain = plainShare(
        shapes,
        from,
        (part) => ({
          element: placed(TURN * turns * part).element,
          azimuth: azimuth - TURN * turns * part,
        }),
        8000,
      );
      const reach = { carrierRadius: carrier, rackRadius: rack, highestZ: 900 + rack };
      const found = shadedOverPath(shapes, from, placed, reach, speed, turns);
      expect(plain.shaded / plain.bare).toBeGreaterThan(0.01);
      expect(Math.abs(found - plain.shaded) / plain.bare).toBeLessThan(6e-4);
    },
  );

  it('is found in a narrow window just under a level rack, wherever source and sheet stand', () => {
    for (const [deg, azimuthDeg] of [
      [0, 70],
      [-130, 70],
      [200, -300],
    ] as const) {
      const close = sheet([150, 420], 12, azimuthDeg, 850);
      const from = { ...source, azimuthDeg: deg };
      const hanging = { radius: 300, height: 900, tilt: 0 };
      const placed = (angle: number) => ({
        element: hung(turned(flatSeat(60), -1.7 * angle), hanging),
        sight: undefined,
      });
      const plain = plainShare(
        [close],
        from,
        (part) => ({ element: placed(2 * TURN * part).element, azimuth: deg * RAD - 2 * TURN * part }),
        8000,
      );
      const reach = { carrierRadius: 300, rackRadius: 60, highestZ: 900 };
      const found = shadedOverPath([close], from, placed, reach, -1.7, 2);
      expect(plain.shaded / plain.bare).toBeGreaterThan(0.01);
      expect(Math.abs(found - plain.shaded) / plain.bare).toBeLessThan(6e-4);
    }
  });

  it('is nothing for sheets of no width or above the rack, and less where something else hides the source too', () => {
    const hanging = { radius: 300, height: 900, tilt: 0 };
    const reach = { carrierRadius: 300, rackRadius: 100, highestZ: 900 };
    const element = (angle: number) => hung(turned(flatSeat(100), 2 * angle), hanging);
    const over = (one: ShieldShape, sight?: Sight) =>
      shadedOverPath([one], source, (angle) => ({ element: element(angle), sight }), reach, 2, 1);
    expect(over(sheet([60, 300], 0, 40))).toBe(0);
    expect(over(sheet([60, 300], 20, 40, -10))).toBe(0);
    expect(over(sheet([60, 300], 20, 40, 0))).toBe(0);
    expect(over(sheet([60, 300], 20, 40, 900))).toBe(0);
    expect(over(sheet([60, 300], 20, 40, 950))).toBe(0);
    const free = over(shapes[0]!);
    expect(over(shapes[0]!, () => -1)).toBe(0);
    expect(over(shapes[0]!, () => 1)).toBeCloseTo(free, 12);
  });
});

describe('the mean over the turns of a planet of what shields keep from it', () => {
  const mean = (borders: (angle: number) => string, shaded: (angle: number) => number) =>
    shadedOverPlanet((angle) => ({ borders: borders(angle), shaded: () => shaded(angle) }));

  it('of a smooth course is that of equal steps, and of one that bends its integral', () => {
    expect(
      mean(
        () => '33',
        (angle) => 3 + Math.cos(angle) + Math.sin(5 * angle),
      ),
    ).toBeCloseTo(3, 12);
    // Many waves, so that the first steps alone would not do: the mean of 1/(a − cos x) is 1/√(a² − 1).
    expect(
      mean(
        () => '33',
        (angle) => 1 / (1.05 - Math.cos(angle)),
      ),
    ).toBeCloseTo(1 / Math.sqrt(1.05 ** 2 - 1), 5);
    expect(
      mean(
        () => '33',
        (angle) => Math.abs(Math.cos(angle)),
      ),
    ).toBeCloseTo(2 / Math.PI, 6);
  });

  it.each([
    ['inside of the turn', 1, 2.5],
    ['over its end', 5.5, 7.2],
    ['narrower than the angles looked at first', 3.13, 3.36],
  ])('of a shadow that comes and goes like a root, %s, is the half ellipse’s area', (_, from, to) => {
    const inside = (angle: number) => {
      const at = angle < from ? angle + TURN : angle;
      return at > from && at < to ? (at - from) * (to - at) : 0;
    };
    const found = mean(
      (angle) => (inside(angle % TURN) > 0 ? '33' : ''),
      (angle) => Math.sqrt(inside(angle % TURN)),
    );
    expect(found / ((Math.PI / 8) * (to - from) ** 2) / (1 / TURN)).toBeCloseTo(1, 7);
  });

  it('of shadows whose borders change is their sum, steps and all', () => {
    // 1 from 0.7 to 2, 3 from 2 to 4.4, nothing else.
    const borders = (angle: number) => {
      const at = angle % TURN;
      if (at > 0.7 && at < 2) return '13';
      return at >= 2 && at < 4.4 ? '12' : '';
    };
    const shaded = (angle: number) => ({ '13': 1, '12': 3, '': 0 })[borders(angle)]!;
    expect(mean(borders, shaded)).toBeCloseTo((1.3 + 3 * 2.4) / TURN, 5);
  });
});
