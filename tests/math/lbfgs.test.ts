import { describe, expect, it } from 'vitest';
import { Lbfgs, type Objective } from '../../src/math/lbfgs.ts';

/** H. H. Rosenbrock, Comput. J. 3, 175-184, 1960: a bent valley with its floor at (1, 1). */
const valley: Objective = (x, gradient) => {
  const [a, b] = [x[0]!, x[1]!];
  gradient[0] = -2 * (1 - a) - 400 * a * (b - a * a);
  gradient[1] = 200 * (b - a * a);
  return (1 - a) ** 2 + 100 * (b - a * a) ** 2;
};

describe('limited-memory BFGS', () => {
  it("follows Rosenbrock's valley to its floor", () => {
    const x = Float64Array.of(-1.2, 1);
    const value = new Lbfgs(2).minimise(valley, x, { iterations: 200, goal: 1e-20 });
    expect(value).toBeLessThan(1e-20);
    expect(x[0]).toBeCloseTo(1, 9);
    expect(x[1]).toBeCloseTo(1, 9);
  });

  it('never returns a worse place than it was given', () => {
    for (const iterations of [1, 2, 5]) {
      const x = Float64Array.of(-1.2, 1);
      const before = valley(x, new Float64Array(2));
      expect(new Lbfgs(2).minimise(valley, x, { iterations, goal: 0 })).toBeLessThan(before);
      expect(valley(x, new Float64Array(2))).toBeLessThan(before);
    }
  });
});
