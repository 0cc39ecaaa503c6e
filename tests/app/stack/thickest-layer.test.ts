import { describe, expect, it } from 'vitest';
import { mostQuarterWaves, THICKEST_LAYER_NM } from '../../../src/app/stations/stack/layer-edits.ts';

describe('the most quarter waves that may be typed', () => {
  it('stay within the thickest layer that a batch holds (t = q λ / 4n)', () => {
    for (const [n, referenceNm] of [
      [2.1, 1064],
      [1.38, 552.1],
      [0.05, 10_000],
    ] as const) {
      const thicknessNm = (mostQuarterWaves(n, referenceNm) * referenceNm) / (4 * n);
      expect(thicknessNm).toBeLessThanOrEqual(THICKEST_LAYER_NM);
      expect(thicknessNm).toBeGreaterThan(THICKEST_LAYER_NM - (0.001 * referenceNm) / (4 * n) - 1e-6);
    }
  });

  it('are 200 where even those are thinner', () => {
    expect(mostQuarterWaves(2.1, 550)).toBe(200);
  });
});
