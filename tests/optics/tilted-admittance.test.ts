import Complex from 'complex.js';
import { describe, expect, it } from 'vitest';
import { boundariesOf } from '../../src/optics/layer-boundaries.ts';
import { type TiltedMedium, tiltMedium } from '../../src/optics/tilted-admittance.ts';

function tilt(n: number, k: number, outside: number, rad: number, polarization: 's' | 'p', least = 1e-10) {
  const into: TiltedMedium = { normalRe: 0, normalIm: 0, admittanceRe: 0, admittanceIm: 0 };
  tiltMedium(into, n, k, outside, Math.sin(rad), Math.cos(rad), polarization, least);
  return into;
}

describe('a medium that light meets at an angle', () => {
  it.each([
    [1.46, 0, 1, 0.7],
    [2.1, 0.3, 1, 1.2],
    [0.06, 3.6, 1.5, 0.9],
    [1, 0, 1.7, 1.1],
    [0.9, 0.2, 1.7, 1.1],
    [1.4, 1e-6, 1, 0],
  ])(
    'of n %f, k %f under %f at %f rad has Snell’s N cos θ and its admittance N cos θ or N / cos θ',
    (n, k, outside, rad) => {
      // Born & Wolf, Principles of Optics, sec. 1.6, with complex.js; of the two roots the one that dies away.
      const index = new Complex(n, -k);
      const square = index.mul(index);
      let normal = square.sub((outside * Math.sin(rad)) ** 2).sqrt();
      if (normal.im > 0) normal = normal.neg();
      const across = tilt(n, k, outside, rad, 's');
      expect(Math.hypot(across.normalRe - normal.re, across.normalIm - normal.im)).toBeLessThan(1e-14);
      expect([across.admittanceRe, across.admittanceIm]).toEqual([across.normalRe, across.normalIm]);
      const along = tilt(n, k, outside, rad, 'p');
      const eta = rad === 0 ? index : square.div(normal);
      expect(Math.hypot(along.admittanceRe - eta.re, along.admittanceIm - eta.im)).toBeLessThan(
        1e-13 * eta.abs(),
      );
    },
  );

  it('exactly at its critical angle is taken just beside it, and nowhere else', () => {
    // sin θ = 0.6 under an index of 5: (N² − n0²) + (n0 cos θ)² = −16 + 16 is exactly 0 for N = 3.
    const into: TiltedMedium = { normalRe: 0, normalIm: 0, admittanceRe: 0, admittanceIm: 0 };
    tiltMedium(into, 3, 0, 5, 0.6, 0.8, 's', 1e-10);
    expect(into).toEqual({ normalRe: 1e-10, normalIm: -0, admittanceRe: 1e-10, admittanceIm: -0 });
    tiltMedium(into, 3, 0, 5, 0.6, 0.8, 'p', 1e-10);
    expect(into.normalRe).toBe(1e-10);
    expect(into.admittanceRe).toBeCloseTo(9e10, -3);
    for (const [n, k] of [
      [1e-3, 0],
      [0, 1e-3],
    ] as const) {
      const small = tilt(n, k, 1, 0, 's');
      expect(Math.hypot(small.normalRe, small.normalIm)).toBe(1e-3);
    }
  });
});

describe('the boundaries of a stack', () => {
  it('are told apart by both of their media, however many there are', () => {
    // 1 under 12 and 11 under 2 are two.
    const { boundaryOf, media } = boundariesOf(Int32Array.of(1, 12, 11, 2, 1, 12));
    expect(media).toEqual([
      [1, 12],
      [12, 11],
      [11, 2],
      [2, 1],
      [12, -1],
    ]);
    expect([...boundaryOf]).toEqual([0, 1, 2, 3, 0, 4]);
  });
});
