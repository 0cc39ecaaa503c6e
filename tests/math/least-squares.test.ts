import { describe, expect, it } from 'vitest';
import { solvePositiveDefinite } from '../../src/math/cholesky.ts';
import { fitLeastSquares, minimizeDamped, type Residuals } from '../../src/math/least-squares.ts';
import { Random } from '../../src/math/random.ts';

const unbounded = (size: number) => ({
  lower: new Float64Array(size).fill(-1e6),
  upper: new Float64Array(size).fill(1e6),
});

/** Rosenbrock's valley as residuals (H. H. Rosenbrock, Comput. J. 3, 175, 1960): minimum 0 at (1, 1). */
const rosenbrock: Residuals = (x, residual, jacobian) => {
  residual[0] = 10 * (x[1]! - x[0]! ** 2);
  residual[1] = 1 - x[0]!;
  jacobian.set([-20 * x[0]!, 10, -1, 0]);
};

describe('solvePositiveDefinite', () => {
  it('solves random systems', () => {
    const random = new Random(5);
    const size = 7;
    const root = Float64Array.from({ length: size * size }, () => random.normal());
    const matrix = new Float64Array(size * size);
    for (let i = 0; i < size; i++)
      for (let j = 0; j < size; j++)
        for (let k = 0; k < size; k++) matrix[i * size + j]! += root[i * size + k]! * root[j * size + k]!;
    const x = Float64Array.from({ length: size }, () => random.normal());
    const b = x.map((_, i) => x.reduce((sum, value, j) => sum + matrix[i * size + j]! * value, 0));
    expect(solvePositiveDefinite(matrix.slice(), b, size)).toBe(true);
    for (let i = 0; i < size; i++) expect(b[i]).toBeCloseTo(x[i]!, 8);
  });

  it('says where a matrix is not positive definite', () => {
    expect(solvePositiveDefinite(Float64Array.of(1, 2, 2, 1), Float64Array.of(1, 1), 2)).toBe(false);
  });
});

describe('fitLeastSquares', () => {
  it('descends Rosenbrock’s valley to its end', () => {
    const result = fitLeastSquares(rosenbrock, 2, Float64Array.of(-1.2, 1), {
      ...unbounded(2),
      relativeTolerance: 1e-14,
    });
    expect(result.converged).toBe(true);
    expect(result.x[0]).toBeCloseTo(1, 6);
    expect(result.x[1]).toBeCloseTo(1, 6);
    expect(result.evaluations).toBeLessThan(60);
  });

  it('stops at a bound and there finds the best of the rest', () => {
    const result = fitLeastSquares(rosenbrock, 2, Float64Array.of(-1.2, 1), {
      lower: Float64Array.of(-2, -2),
      upper: Float64Array.of(0.5, 2),
    });
    // On x = 0.5 the best y is x² = 0.25, with half of (1 - 0.5)² left.
    expect(result.x[0]).toBe(0.5);
    expect(result.x[1]).toBeCloseTo(0.25, 5);
    expect(result.value).toBeCloseTo(0.125, 8);
  });

  it('solves a linear fit exactly, as the normal equations do', () => {
    const points = [0, 1, 2, 3, 4];
    const measured = [1.1, 2.9, 5.2, 7.1, 8.8];
    const line: Residuals = (x, residual, jacobian) =>
      points.forEach((at, i) => {
        residual[i] = x[0]! + x[1]! * at - measured[i]!;
        jacobian.set([1, at], 2 * i);
      });
    const { x } = fitLeastSquares(line, 5, Float64Array.of(0, 0), {
      ...unbounded(2),
      relativeTolerance: 1e-16,
    });
    // Slope = Σ(x - 2)(y - mean) / Σ(x - 2)² = 19.6 / 10, intercept = 5.02 - 2 · 1.96.
    expect(x[1]).toBeCloseTo(1.96, 7);
    expect(x[0]).toBeCloseTo(1.1, 7);
  });

  it('ends when asked to, with the best so far', () => {
    const result = fitLeastSquares(rosenbrock, 2, Float64Array.of(-1.2, 1), {
      ...unbounded(2),
      stop: (evaluations) => evaluations >= 3,
    });
    expect(result.evaluations).toBe(3);
    expect(result.converged).toBe(false);
    expect(result.value).toBeLessThanOrEqual(12.1);
  });

  it('leaves its start alone and moves a start outside the bounds into them', () => {
    const start = Float64Array.of(5, 5);
    const result = fitLeastSquares(rosenbrock, 2, start, {
      lower: Float64Array.of(-1, -1),
      upper: Float64Array.of(2, 2),
    });
    expect([...start]).toEqual([5, 5]);
    expect(result.x.every((value) => value >= -1 && value <= 2)).toBe(true);
  });
});

describe('minimizeDamped', () => {
  it('stays where nothing depends on the variables', () => {
    const result = minimizeDamped(
      (_x, gradient, curvature) => {
        gradient.fill(0);
        curvature.fill(0);
        return 4;
      },
      Float64Array.of(1, 2),
      unbounded(2),
    );
    expect([...result.x]).toEqual([1, 2]);
    expect(result.value).toBe(4);
  });

  it('refuses bounds that contradict one another or do not fit', () => {
    const flat = () => 0;
    const one = Float64Array.of(0);
    expect(() => minimizeDamped(flat, one, { lower: Float64Array.of(1), upper: Float64Array.of(0) })).toThrow(
      'bounds[0]: the lower bound 1 is above the upper bound 0',
    );
    expect(() => minimizeDamped(flat, one, unbounded(2))).toThrow('2 and 2 bounds for 1 variables');
  });
});
