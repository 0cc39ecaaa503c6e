import { describe, expect, it } from 'vitest';
import { flatSeat, hung, turned } from '../../src/chamber/element.ts';

const seat = { along: 3, aside: 2, ahead: 5, normalAlong: 0.6, normalAside: 0.48, normalAhead: 0.64 };

describe('a seat on a rack that turns', () => {
  it('goes with its normal from along to aside in a quarter turn, and no nearer to the vapour', () => {
    const quarter = turned(seat, Math.PI / 2);
    expect(quarter.along).toBeCloseTo(-2, 14);
    expect(quarter.aside).toBeCloseTo(3, 14);
    expect(quarter.normalAlong).toBeCloseTo(-0.48, 14);
    expect(quarter.normalAside).toBeCloseTo(0.6, 14);
    expect([quarter.ahead, quarter.normalAhead]).toEqual([5, 0.64]);
  });

  it('comes in two turns to where their sum brings it', () => {
    const [twice, once] = [turned(turned(seat, 0.4), 1.1), turned(seat, 1.5)];
    for (const [name, value] of Object.entries(once))
      expect(twice[name as keyof typeof twice], name).toBeCloseTo(value, 14);
  });
});

describe('a seat on a rack that hangs in the chamber', () => {
  it('looks down where the rack does not lean, and at the axis where it leans by a right angle', () => {
    const middle = { radius: 285, height: 900, tilt: 0 };
    expect(hung(flatSeat(100), middle)).toEqual({ x: 385, y: 0, z: 900, nx: 0, ny: 0, nz: -1 });
    const upright = hung(seat, { ...middle, tilt: Math.PI / 2 });
    const { x, y, z, nx, ny, nz } = upright;
    for (const [value, expected] of [
      [x, 285 - 5],
      [y, 2],
      [z, 900 - 3],
      [nx, -0.64],
      [ny, 0.48],
      [nz, -0.6],
    ] as const)
      expect(value).toBeCloseTo(expected, 12);
  });
});
