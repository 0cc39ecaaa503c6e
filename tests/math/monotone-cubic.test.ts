import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { monotoneCubic } from '../../src/math/monotone-cubic.ts';

const curve = (x: number[], y: number[]) => monotoneCubic(Float64Array.from(x), Float64Array.from(y));

describe('the monotone cubic', () => {
  it('meets its points and holds the ends', () => {
    const { at } = curve([1, 2, 4], [3, 5, 1]);
    expect([at(0), at(1), at(2), at(4), at(9)]).toEqual([3, 3, 5, 1, 1]);
  });

  it('is straight through two points and constant through one', () => {
    expect(curve([1, 3], [10, 20]).at(1.5)).toBe(12.5);
    expect(curve([1], [10]).at(-7)).toBe(10);
  });

  it('reproduces a straight line', () => {
    const { at } = curve([0, 1, 3, 10], [1, 3, 7, 21]);
    for (let x = 0; x <= 10; x += 0.37) expect(at(x)).toBeCloseTo(1 + 2 * x, 12);
  });

  it('comes near a smooth curve with the third power of the step', () => {
    const error = (steps: number) => {
      const x = Array.from({ length: steps + 1 }, (_, i) => i / steps);
      const { at } = curve(x, x.map(Math.exp));
      let worst = 0;
      for (let t = 0; t <= 1; t += 1 / 997) worst = Math.max(worst, Math.abs(at(t) - Math.exp(t)));
      return worst;
    };
    expect(error(16)).toBeLessThan(1e-4);
    expect(error(16) / error(32)).toBeGreaterThan(6);
  });

  it('never leaves the span of the two points around it', () => {
    const points = fc.uniqueArray(
      fc.tuple(fc.integer({ min: 0, max: 1000 }), fc.double({ min: -9, max: 9, noNaN: true })),
      {
        minLength: 2,
        maxLength: 12,
        selector: ([x]) => x,
      },
    );
    fc.assert(
      fc.property(points, fc.double({ min: 0, max: 1, noNaN: true }), (given, t) => {
        const sorted = [...given].sort((a, b) => a[0] - b[0]);
        const { at } = curve(
          sorted.map(([x]) => x),
          sorted.map(([, y]) => y),
        );
        for (let i = 1; i < sorted.length; i++) {
          const [[x0, y0], [x1, y1]] = [sorted[i - 1]!, sorted[i]!];
          const value = at(x0 + t * (x1 - x0));
          expect(value).toBeGreaterThanOrEqual(Math.min(y0, y1) - 1e-12);
          expect(value).toBeLessThanOrEqual(Math.max(y0, y1) + 1e-12);
        }
      }),
    );
  });
});
