import { describe, expect, it } from 'vitest';
import { groupDelayFs } from '../../src/optics/group-delay.ts';
import { plainStack } from './support/stacks.ts';

const C_NM_PER_FS = 299.792458;

describe('the group delay', () => {
  it('of a mirror behind a gap is the time there and back, 2 d cos θ / c', () => {
    const at = (nm: Float64Array) => plainStack([...nm], 1, [1], 4);
    for (const angle of [0, 0.6]) {
      const delay = groupDelayFs(at, Float64Array.of(500, 800), Float64Array.of(30_000), angle, 's');
      const expected = (2 * 30_000 * Math.cos(angle)) / C_NM_PER_FS;
      expect(delay[0]! / expected).toBeCloseTo(1, 8);
      expect(delay[1]! / expected).toBeCloseTo(1, 8);
    }
  });

  it('in a dispersive layer goes by the group index n − λ dn/dλ', () => {
    const n = (nm: number) => 1.5 + 20_000 / nm ** 2;
    const at = (nm: Float64Array) => {
      const index = { n: nm.map(n), k: nm.map(() => 0) };
      return { ...plainStack([...nm], 1, [], 1e6), incident: index, layers: [index] };
    };
    const delay = groupDelayFs(at, Float64Array.of(500), Float64Array.of(20_000), 0, 's');
    const groupIndex = 1.5 + (3 * 20_000) / 500 ** 2;
    expect(delay[0]! / ((2 * 20_000 * groupIndex) / C_NM_PER_FS)).toBeCloseTo(1, 6);
  });

  it('of a quarter-wave mirror from air is λ / (2c (nH − nL)) at its centre', () => {
    // Many pairs, high index outside, from air: τ = (λ0 / 2c) / (nH − nL) (textbook relation for the depth of
    // penetration of a quarter-wave mirror, n0 = 1).
    const [high, low, nm] = [2.3, 1.46, 600];
    const layers = Array.from({ length: 61 }, (_, j) => (j % 2 === 0 ? high : low));
    const thicknessNm = Float64Array.from(layers, (n) => nm / 4 / n);
    const at = (wavelengths: Float64Array) => plainStack([...wavelengths], 1, layers, 1.52);
    const delay = groupDelayFs(at, Float64Array.of(nm), thicknessNm, 0, 's');
    expect(delay[0]).toBeCloseTo(nm / (2 * C_NM_PER_FS * (high - low)), 6);
  });

  it('is refused where nothing is reflected', () => {
    const at = (nm: Float64Array) => plainStack([...nm], 1.5, [], 1.5);
    expect(() => groupDelayFs(at, Float64Array.of(500), new Float64Array(0), 0, 's')).toThrow(
      'wavelengthNm[0]: nothing is reflected at 500 nm, so that there is no delay',
    );
  });
});
