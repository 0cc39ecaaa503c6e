import Complex from 'complex.js';
import { describe, expect, it } from 'vitest';
import { tiltedWave } from '../../src/monitor/tilted-wave.ts';

const S = 0;
const P = 1;

function waveIn(n: number, k: number, transverse: number, p: number, nm = 500): number[] {
  const out = new Float64Array(4);
  tiltedWave(n, k, transverse, nm, p, out);
  return Array.from(out);
}

describe('a wave in a tilted film', () => {
  it('has at normal incidence the index for its admittance, to the last digit, in both polarizations', () => {
    for (const [n, k] of [
      [1.52, 0],
      [0.2, 3.1],
      [3.45, 0.07],
      [0.1, 0.3],
    ] as const)
      for (const p of [S, P]) {
        const [re, im, waveRe, waveIm] = waveIn(n, k, 0, p);
        expect([re, im]).toEqual([n, -k]);
        expect(waveRe).toBeCloseTo((2 * Math.PI * n) / 500, 15);
        expect(waveIm).toBeCloseTo((-2 * Math.PI * k) / 500, 15);
      }
  });

  it.each([
    [2.1, 0, 0.6],
    [1.38, 0.001, 0.9],
    [0.2, 3.1, 0.7],
    [0.9, 0, 0.95],
    [0.9, 0.02, 0.95],
    [1.46, 0, 1.52],
    [0.05, 0.05, 0.3],
  ])(
    'is N cos θ in s and N / cos θ in p, that decays: n = %d, k = %d, transverse index %d',
    (n, k, transverse) => {
      // With a library's complex numbers: N cos θ = sqrt(N² - transverse²), the root that decays (Born & Wolf sec. 1.6).
      const square = new Complex(n, -k).mul(new Complex(n, -k));
      const root = square.sub(transverse * transverse).sqrt();
      const along = root.im > 0 ? root.neg() : root;
      const over = square.div(along);
      for (const [p, admittance] of [
        [S, along],
        [P, over],
      ] as const) {
        const [re, im, waveRe, waveIm] = waveIn(n, k, transverse, p);
        expect(re).toBeCloseTo(admittance.re, 12);
        expect(im).toBeCloseTo(admittance.im, 12);
        expect(waveRe).toBeCloseTo((2 * Math.PI * along.re) / 500, 14);
        expect(waveIm).toBeCloseTo((2 * Math.PI * along.im) / 500, 14);
        expect(waveIm).toBeLessThanOrEqual(0);
      }
    },
  );

  it('keeps the digits of a tiny absorption', () => {
    // Im sqrt(n² - t² - 2ink) = -n k / sqrt(n² - t²) to first order.
    const [, im] = waveIn(1.52, 1e-13, 0.6, S);
    expect(im! / ((-1.52 * 1e-13) / Math.sqrt(1.52 ** 2 - 0.36))).toBeCloseTo(1, 12);
    // And beyond the critical angle the real part: n k / sqrt(t² - n²).
    const [re] = waveIn(1.46, 1e-13, 1.52, S);
    expect(re! / ((1.46 * 1e-13) / Math.sqrt(1.52 ** 2 - 1.46 ** 2))).toBeCloseTo(1, 12);
  });

  it('runs along the film at its critical angle', () => {
    for (const part of waveIn(0.75, 0, 0.75, S)) expect(Math.abs(part)).toBe(0);
  });
});
