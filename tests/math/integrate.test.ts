import { describe, expect, it } from 'vitest';
import { gaussLegendre } from '../../src/math/gauss-legendre.ts';
import { integrate, meanOverPeriod } from '../../src/math/integrate.ts';

describe('a Gauss-Legendre rule', () => {
  it('has the published nodes and weights of five points', () => {
    // M. Abramowitz & I. A. Stegun, Handbook of Mathematical Functions, table 25.4.
    const { nodes, weights } = gaussLegendre(5);
    expect(nodes[4]).toBeCloseTo(0.906179845938664, 14);
    expect(nodes[3]).toBeCloseTo(0.538469310105683, 14);
    expect(nodes[2]).toBe(0);
    expect(weights[4]).toBeCloseTo(0.236926885056189, 14);
    expect(weights[2]).toBeCloseTo(0.568888888888889, 14);
  });

  it('is exact up to degree 2n - 1 and keeps its weight at every order', () => {
    for (const order of [1, 2, 3, 8, 31, 200, 1000]) {
      const { nodes, weights } = gaussLegendre(order);
      const moment = (power: number) =>
        nodes.reduce((sum, x, index) => sum + weights[index]! * x ** power, 0);
      expect(moment(0)).toBeCloseTo(2, 12);
      expect(moment(2 * order - 2)).toBeCloseTo(2 / (2 * order - 1), 12);
      expect(moment(2 * order - 1)).toBeCloseTo(0, 12);
    }
    expect(() => gaussLegendre(0)).toThrow('order: 0 is below 1');
  });
});

describe('integration', () => {
  it('closes in on a kink and on a jump', () => {
    expect(integrate((x) => Math.max(0, x - 1 / 3), 0, 1)).toBeCloseTo(2 / 9, 11);
    expect(integrate((x) => (x < Math.SQRT1_2 ? 1 : 0), 0, 1)).toBeCloseTo(Math.SQRT1_2, 10);
    expect(integrate((x) => Math.exp(-x), 0, 700, 1e-12, 8)).toBeCloseTo(1, 11);
  });

  it('over a period is right for smooth functions and for clipped ones', () => {
    // Mean of 1/(a - cos x) is 1/sqrt(a^2 - 1); mean of the positive part of cos x is 1/π.
    expect(meanOverPeriod((x) => 1 / (1.3 - Math.cos(x)), 2 * Math.PI)).toBeCloseTo(1 / Math.sqrt(0.69), 11);
    expect(meanOverPeriod((x) => Math.max(0, Math.cos(x)), 2 * Math.PI)).toBeCloseTo(1 / Math.PI, 11);
    expect(meanOverPeriod(() => 0, 1)).toBe(0);
  });
});
