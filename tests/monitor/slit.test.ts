import { describe, expect, it } from 'vitest';
import { slitLight } from '../../src/monitor/slit.ts';

/** Mean of ((λ - centre) / bandwidth)^power. */
function moment(bandwidthNm: number, shape: 'rectangular' | 'triangular', power: number): number {
  const { wavelengthNm, weight } = slitLight(550, bandwidthNm, shape);
  return weight.reduce((sum, one, i) => sum + one * ((wavelengthNm[i]! - 550) / bandwidthNm) ** power, 0);
}

describe('the light of a slit', () => {
  it('of no width is of one wavelength', () => {
    for (const shape of ['rectangular', 'triangular'] as const)
      expect(slitLight(633, 0, shape)).toEqual({
        wavelengthNm: Float64Array.of(633),
        weight: Float64Array.of(1),
      });
  });

  it('is rectangular where nothing is said', () => {
    expect(slitLight(550, 4)).toEqual(slitLight(550, 4, 'rectangular'));
  });

  it.each([
    ['rectangular', 5.5, 3],
    ['rectangular', 5.6, 5],
    ['rectangular', 22, 5],
    ['rectangular', 22.1, 8],
    ['triangular', 1, 8],
    ['triangular', 60, 8],
  ] as const)('%s of %d nm is of few wavelengths, the more the wider', (shape, bandwidthNm, count) => {
    const { wavelengthNm, weight } = slitLight(550, bandwidthNm, shape);
    expect(wavelengthNm).toHaveLength(count);
    expect(weight).toHaveLength(count);
    expect(Array.from(wavelengthNm)).toEqual(Array.from(wavelengthNm).sort((a, b) => a - b));
    const half = shape === 'rectangular' ? bandwidthNm / 2 : bandwidthNm;
    expect(wavelengthNm[0]).toBeGreaterThan(550 - half);
    expect(wavelengthNm.at(-1)).toBeLessThan(550 + half);
  });

  // Of even light over -1/2 to 1/2 the mean of x² is 1/12 and of x⁴ 1/80; of a triangle over -1 to 1, 1/6 and 1/15, and of x⁶
  // 1/28; odd powers have none. Gauss's rule of 3 points is exact up to the fifth power, the others beyond the sixth.
  it.each([
    ['rectangular', 5.5, [1, 0, 1 / 12, 0, 1 / 80]],
    ['rectangular', 22, [1, 0, 1 / 12, 0, 1 / 80, 0, 1 / 448]],
    ['rectangular', 60, [1, 0, 1 / 12, 0, 1 / 80, 0, 1 / 448, 0, 1 / 2304]],
    ['triangular', 5.5, [1, 0, 1 / 6, 0, 1 / 15, 0, 1 / 28]],
    ['triangular', 60, [1, 0, 1 / 6, 0, 1 / 15, 0, 1 / 28]],
  ] as const)('%s of %d nm has the moments of its shape', (shape, bandwidthNm, moments) => {
    for (const [power, exact] of moments.entries())
      expect(moment(bandwidthNm, shape, power)).toBeCloseTo(exact, 12);
  });
});
