import { describe, expect, it } from 'vitest';
import { Merit } from '../../src/design/merit.ts';
import { meritGrid } from '../../src/design/merit-grid.ts';
import { RobustMerit } from '../../src/design/robust-merit.ts';
import { AIR, FILMS, GLASS, reflectance } from './support/yardstick.ts';

const grid = meritGrid(
  [reflectance({ limit: 0.5 })],
  AIR,
  GLASS,
  FILMS.map(({ index }) => index),
  31,
);
const materials = [2, 3, 0];
const thickness = Float64Array.of(79, 123, 94);
const errors = { relativePercent: 2, absoluteNm: 0.5, indexPercent: 0 };

describe('RobustMerit', () => {
  it('is the merit itself where there are no errors', () => {
    const merit = new Merit(grid, materials);
    const none = { relativePercent: 0, absoluteNm: 0, indexPercent: 0 };
    expect(new RobustMerit(merit, 3, none, 1).exact(thickness)).toBeCloseTo(merit.exact(thickness), 12);
  });

  it('is higher than the merit near its minimum, since every error costs there', () => {
    const merit = new Merit(grid, materials);
    expect(new RobustMerit(merit, 3, errors, 1).exact(thickness)).toBeGreaterThan(merit.exact(thickness));
  });

  it('has the exact gradient', () => {
    const robust = new RobustMerit(new Merit(grid, materials), 3, errors, 1);
    const gradient = new Float64Array(3);
    const curvature = new Float64Array(9);
    const value = (at: Float64Array) =>
      robust.smoothWithDerivatives(at, 8, new Float64Array(3), new Float64Array(9));
    robust.smoothWithDerivatives(thickness, 8, gradient, curvature);
    for (let i = 0; i < 3; i++) {
      const h = 1e-3;
      const slope =
        (value(thickness.with(i, thickness[i]! + h)) - value(thickness.with(i, thickness[i]! - h))) / (2 * h);
      expect(gradient[i]).toBeCloseTo(slope, 5);
    }
  });

  it('keeps no memory between calls and repeats itself for its seed', () => {
    const make = (seed: number) => new RobustMerit(new Merit(grid, materials), 3, errors, seed);
    const one = make(1);
    const first = one.exact(thickness);
    one.exact(Float64Array.of(10, 20, 30));
    expect(one.exact(thickness)).toBe(first);
    expect(make(1).exact(thickness)).toBe(first);
    expect(make(2).exact(thickness)).not.toBe(first);
  });
});
