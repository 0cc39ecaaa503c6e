import { describe, expect, it } from 'vitest';
import {
  CIRCULAR,
  HYPERBOLIC,
  halved,
  MOST_OCTAVES,
  OCTAVE_HALVES,
  POWERS,
  ROUNDER,
} from '../../src/optics/circular-rational.ts';

const grid = Array.from({ length: 20_001 }, (_, i) => -0.5 + i / 20_000);

describe('the rational functions of the kernels', () => {
  it('give sine and cosine of half turns to 5e-16', () => {
    const [p0, p1, p2, p3, q1, q2, q3] = [...CIRCULAR] as [
      number,
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    let [worst, least, most] = [0, Number.POSITIVE_INFINITY, 0];
    for (const f of grid) {
      const z = f * f;
      const p = f * (p0 + z * p1 + z * z * (p2 + z * p3));
      const q = 1 + z * q1 + z * z * (q2 + z * q3);
      const factor = p * p + q * q;
      least = Math.min(least, factor);
      most = Math.max(most, factor);
      worst = Math.max(
        worst,
        Math.abs((2 * p * q) / factor - Math.sin(Math.PI * f)),
        Math.abs((q * q - p * p) / factor - Math.cos(Math.PI * f)),
      );
    }
    expect(worst).toBeLessThan(5e-16);
    expect(least).toBe(1);
    expect(most).toBeLessThan(1.05);
  });

  it('give a power of two to 4e-16 of it', () => {
    const [u0, u1, u2, v1, v2] = [...HYPERBOLIC] as [number, number, number, number, number];
    const worst = Math.max(
      ...grid.map((g) => {
        const z = g * g;
        const u = g * (u0 + z * (u1 + z * u2));
        const v = 1 + z * (v1 + z * v2);
        return Math.abs((v - u) / (v + u) / 2 ** -g - 1);
      }),
    );
    expect(worst).toBeLessThan(4e-16);
  });

  it('round to the nearest whole number, and halve sums and differences of powers of two', () => {
    for (const [value, whole] of [
      [0.49, 0],
      [0.51, 1],
      [7.2, 7],
      [123_456.6, 123_457],
      [0, 0],
    ] as const) {
      expect(value + ROUNDER[0]! - ROUNDER[0]!).toBe(whole);
    }
    expect([...OCTAVE_HALVES.subarray(0, 6)]).toEqual([1, 0, 0.75, 0.25, 0.625, 0.375]);
    expect(OCTAVE_HALVES).toHaveLength(2 * (MOST_OCTAVES + 1));
    expect([...OCTAVE_HALVES.subarray(-2)]).toEqual([0.5, 0.5]);
  });

  it('halve as often as octaves are passed, to 4e-16 of the power, down to the least double and to nothing', () => {
    const octaves = Array.from({ length: 2700 }, (_, i) => 0.37 * i);
    const worst = Math.max(...octaves.map((one) => Math.abs(halved(one) / 2 ** -one - 1)));
    expect(worst).toBeLessThan(4e-16);
    expect([0, 1, 60, 1074].map(halved)).toEqual([1, 0.5, 2 ** -60, Number.MIN_VALUE]);
    expect([1075, 1076, 1e9].map(halved)).toEqual([0, 0, 0]);
    expect([...POWERS.subarray(-2)]).toEqual([Number.MIN_VALUE, 0]);
  });
});
