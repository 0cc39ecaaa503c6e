import { describe, expect, it } from 'vitest';
import { MIXTURE_RULES, mixIndex } from '../../src/materials/mixture.ts';
import { vacuumToAirShift } from '../../src/materials/packing.ts';

const clear = (n: number) => ({ n, k: 0 });

describe('a mixture', () => {
  it('follows the linear rule of thumb: 80 % of 1.38 with empty voids 1.304, with water 1.370', () => {
    // textbook relation (from memory), computed from the stated formula with water at 1.33
    expect(mixIndex('linear', 0.8, clear(1.38), clear(1)).n).toBeCloseTo(1.304, 12);
    expect(mixIndex('linear', 0.8, clear(1.38), clear(1.33)).n).toBeCloseTo(1.37, 12);
  });

  it('gives 1.8685038 for columns of 2.35 that fill 80 %', () => {
    // Bragg and Pippard 1953; the formula's value worked out by itself
    expect(mixIndex('bragg-pippard', 0.8, clear(2.35), clear(1)).n).toBeCloseTo(1.8685038, 7);
  });

  it('gives the volume mean of (n² − 1)/(n² + 2) by Lorentz and Lorenz', () => {
    const { n } = mixIndex('lorentz-lorenz', 0.7, clear(2.3), clear(1.333));
    const y = (index: number) => (index * index - 1) / (index * index + 2);
    expect(y(n)).toBeCloseTo(0.7 * y(2.3) + 0.3 * y(1.333), 14);
  });

  it("balances the polarizations in Bruggeman's mixture", () => {
    const { n } = mixIndex('bruggeman', 0.6, clear(2.3), clear(1));
    const term = (index: number) => (index * index - n * n) / (index * index + 2 * n * n);
    expect(0.6 * term(2.3) + 0.4 * term(1)).toBeCloseTo(0, 14);
  });

  it.each(MIXTURE_RULES)('lies between its parts, rises with the packing and ends at them: %s', (rule) => {
    let before = 1;
    for (let packing = 0; packing <= 1; packing += 1 / 16) {
      const { n, k } = mixIndex(rule, packing, clear(2.4), clear(1));
      expect(n).toBeGreaterThanOrEqual(before);
      expect(k).toBe(0);
      before = n;
    }
    expect(before).toBe(2.4);
    expect(mixIndex(rule, 0, clear(2.4), clear(1)).n).toBe(1);
  });

  it.each(MIXTURE_RULES)('absorbs no more than its solid and never less than nothing: %s', (rule) => {
    for (const solid of [
      { n: 2.4, k: 0.01 },
      { n: 1.5, k: 1e-6 },
      { n: 2, k: 1.5 },
    ]) {
      const { n, k } = mixIndex(rule, 0.85, solid, clear(1));
      expect(k).toBeGreaterThan(0);
      expect(k).toBeLessThan(solid.k);
      expect(n).toBeGreaterThan(0);
    }
  });

  it.each([-0.1, 1.1, Number.NaN])('refuses a packing of %d', (packing) => {
    expect(() => mixIndex('linear', packing, clear(1.5), clear(1))).toThrow(/^packing: /);
  });
});

describe('the shift from vacuum to air', () => {
  const given = { density: 0.8, voids: 'vacuum', rule: 'linear' } as const;

  it('is the relative growth of n when water fills the voids', () => {
    expect(vacuumToAirShift(clear(1.38), given)).toBeCloseTo((1.104 + 0.2 * 1.333) / 1.304 - 1, 14);
  });

  it('is a few per cent for a porous film and nothing for a dense one', () => {
    for (const rule of MIXTURE_RULES) {
      const shift = vacuumToAirShift(clear(2.2), { ...given, density: 0.9, rule });
      expect(shift).toBeGreaterThan(0.005);
      expect(shift).toBeLessThan(0.06);
      expect(vacuumToAirShift(clear(2.2), { ...given, density: 1, rule })).toBe(0);
    }
  });
});
