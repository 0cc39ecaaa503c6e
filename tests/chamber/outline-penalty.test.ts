import { describe, expect, it } from 'vitest';
import { outlinePenalty } from '../../src/chamber/outline-penalty.ts';

/** The rows' product with the half angles: the first half weighs size, the second bend. */
function weighed(half: readonly number[]): { size: number[]; bend: number[] } {
  const count = half.length;
  const rows = outlinePenalty(count);
  expect(rows).toHaveLength(2 * count * count);
  const products = Array.from({ length: 2 * count }, (_, row) =>
    half.reduce((sum, angle, at) => sum + rows[row * count + at]! * angle, 0),
  );
  return { size: products.slice(0, count), bend: products.slice(count) };
}

describe('what asks an outline to be small and smooth', () => {
  it('weighs each half angle alike, and a straight course for no bend', () => {
    const { size, bend } = weighed([1, 2, 3, 4, 5]);
    expect(size[0]).toBeGreaterThan(0);
    size.forEach((weight, index) => {
      expect(weight / size[0]!).toBeCloseTo(index + 1, 12);
    });
    for (const weight of bend) expect(Math.abs(weight)).toBeLessThan(1e-15);
  });

  it('weighs a bend by its second difference, far more than size, and not at the ends', () => {
    // Squares have the second difference 2 everywhere, a lone step up 1, −2, 1.
    const { size, bend } = weighed([0, 1, 4, 9, 16]);
    expect(bend[1]! / size[1]!).toBeGreaterThan(10);
    for (const weight of bend.slice(1, 4)) expect(weight).toBeCloseTo(bend[1]!, 15);
    expect([bend[0], bend[4]]).toEqual([0, 0]);
    const lone = weighed([0, 0, 1, 0, 0]).bend.map((weight) => (2 * weight) / bend[1]!);
    for (const [index, expected] of [0, 1, -2, 1, 0].entries()) expect(lone[index]).toBeCloseTo(expected, 12);
  });
});
