import { describe, expect, it } from 'vitest';
import { percentile } from '../../src/math/percentile.ts';

describe('a percentile', () => {
  it('lies on the ordered values and between them in proportion', () => {
    const sorted = Float64Array.of(1, 2, 4, 8, 16);
    expect([0, 25, 50, 75, 100].map((percent) => percentile(sorted, percent))).toEqual([1, 2, 4, 8, 16]);
    expect(percentile(sorted, 60)).toBeCloseTo(4 + 0.4 * 4, 14);
  });

  it('refuses an empty sample', () => {
    expect(() => percentile(new Float64Array(), 50)).toThrow('sorted: 0 values is below 1 values');
  });
});
