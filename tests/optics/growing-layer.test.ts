import { describe, expect, it } from 'vitest';
import { GrowingLayer } from '../../src/optics/growing-layer.ts';
import { spectrum } from './support/solve.ts';
import { plainStack } from './support/stacks.ts';

describe('a growing layer', () => {
  it.each([
    ['lossless', [2.3, 1.46, 2.3], 1.52],
    ['absorbing', [2.3, [0.9, 6], [2.1, 0.4]], [1.5, 0.01]],
    ['evanescent', [2.3, 1.46, 1.2], 1.5],
  ] as const)('has at each thickness what the whole stack has: %s', (_, layers, substrate) => {
    const stack = plainStack([550], 1.7, layers, substrate);
    for (const polarization of ['s', 'p'] as const) {
      const growing = new GrowingLayer(stack, Float64Array.of(60, 20), 0.8, polarization);
      for (const nm of [0, 0.01, 33, 400, 700, 12_345, 1e6]) {
        growing.grow(nm);
        const { R, T } = spectrum(stack, [60, 20, nm], 0.8, polarization);
        expect(growing.reflectance).toBeCloseTo(R[0]!, 14);
        if (T[0]! < 1e-200) expect(growing.transmittance).toBe(0);
        else expect(growing.transmittance / T[0]!).toBeCloseTo(1, 12);
      }
    }
  });

  it('of 2.35 on 1.52 turns at 32.3 % after a quarter wave (thin-film textbook relation)', () => {
    const growing = new GrowingLayer(plainStack([550], 1, [2.35], 1.52), new Float64Array(0));
    const levels = [0, 1, 2].map((quarters) => {
      growing.grow((quarters * 550) / 4 / 2.35);
      return growing.reflectance;
    });
    expect(levels[0]).toBeCloseTo(0.04257999, 7);
    expect(levels[1]).toBeCloseTo(0.3230048, 7);
    expect(levels[2]).toBeCloseTo(0.04257999, 7);
  });

  it('is taken to vibrate across the plane of incidence where nothing is said', () => {
    const stack = plainStack([550], 1, [1.46, 2.35], 1.52);
    const [plain, across] = [[], ['s'] as const].map(
      (which) => new GrowingLayer(stack, Float64Array.of(80), 0.9, ...which),
    );
    for (const one of [plain!, across!]) one.grow(70);
    expect(plain!.reflectance).toBe(across!.reflectance);
  });

  it('refuses a stack of several wavelengths or without a layer', () => {
    expect(() => new GrowingLayer(plainStack([550, 600], 1, [2.35], 1.52), new Float64Array(0))).toThrow(
      'wavelengthNm: 2 wavelengths are given where 1 is needed',
    );
    expect(() => new GrowingLayer(plainStack([550], 1, [], 1.52), new Float64Array(0))).toThrow(
      'layers: no layer is given that could grow',
    );
  });
});
