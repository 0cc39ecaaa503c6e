import { expect, it } from 'vitest';
import { invertPositiveDefinite } from '../../src/math/inverse.ts';
import { fitLeastSquares } from '../../src/math/least-squares.ts';

/**
 * NIST Statistical Reference Datasets, linear regression "Norris" (J. Norris, calibration of ozone monitors): y, x, and
 * the certified values. From memory; that the fit meets the certified figures to eleven digits confirms the data.
 */
const NORRIS: readonly (readonly [number, number])[] = [
  [0.1, 0.2],
  [338.8, 337.4],
  [118.1, 118.2],
  [888.0, 884.6],
  [9.2, 10.1],
  [228.1, 226.5],
  [668.5, 666.3],
  [998.5, 996.3],
  [449.1, 448.6],
  [778.9, 777.0],
  [559.2, 558.2],
  [0.3, 0.4],
  [0.1, 0.6],
  [778.1, 775.5],
  [668.8, 666.9],
  [339.3, 338.0],
  [448.9, 447.5],
  [10.8, 11.6],
  [557.7, 556.0],
  [228.3, 228.1],
  [998.0, 995.8],
  [888.8, 887.6],
  [119.6, 120.2],
  [0.3, 0.3],
  [0.6, 0.3],
  [557.6, 556.8],
  [339.3, 339.1],
  [888.0, 887.2],
  [998.5, 999.0],
  [778.9, 779.0],
  [10.2, 11.1],
  [117.6, 118.3],
  [228.9, 229.2],
  [668.4, 669.1],
  [449.2, 448.9],
  [0.2, 0.5],
];

it('least squares and their standard deviations meet the certified values of the Norris data', () => {
  const bounds = { lower: Float64Array.of(-1e3, -1e3), upper: Float64Array.of(1e3, 1e3) };
  const { x } = fitLeastSquares(
    ([b0 = 0, b1 = 0], residual, jacobian) => {
      NORRIS.forEach(([y, t], i) => {
        residual[i] = b0 + b1 * t - y;
        jacobian.set([1, t], 2 * i);
      });
    },
    NORRIS.length,
    Float64Array.of(0, 1),
    { ...bounds, relativeTolerance: 1e-16, stepTolerance: 1e-13, maxEvaluations: 1000 },
  );
  expect(x[0]).toBeCloseTo(-0.262323073774029, 8);
  expect(x[1]).toBeCloseTo(1.00211681802045, 11);

  const squares = NORRIS.reduce((sum, [y, t]) => sum + (x[0]! + x[1]! * t - y) ** 2, 0);
  const variance = squares / (NORRIS.length - 2);
  expect(Math.sqrt(variance)).toBeCloseTo(0.884796396144373, 11);
  const sum = (power: number) => NORRIS.reduce((total, [, t]) => total + t ** power, 0);
  const inverse = invertPositiveDefinite(Float64Array.of(sum(0), sum(1), sum(1), sum(2)), 2)!;
  expect(Math.sqrt(variance * inverse[0]!)).toBeCloseTo(0.232818234301152, 10);
  expect(Math.sqrt(variance * inverse[3]!)).toBeCloseTo(0.429796848199937e-3, 12);
});
