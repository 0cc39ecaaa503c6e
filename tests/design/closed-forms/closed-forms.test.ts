import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { equivalentPeriods } from '../../../src/design/closed-forms/equivalent-period.ts';
import { fourLayerThinPair } from '../../../src/design/closed-forms/four-layer.ts';
import {
  innerIndexWanted,
  quarterHalfQuarter,
} from '../../../src/design/closed-forms/quarter-half-quarter.ts';
import { quarterWaveNm, quarterWaveReflectance } from '../../../src/design/closed-forms/quarter-wave.ts';
import { twoLayerZeros } from '../../../src/design/closed-forms/two-layer-zero.ts';
import { matrixReflectance } from '../support/matrix-reflectance.ts';

const index = fc.double({ min: 1, max: 4, noNaN: true });

/** A film of matching numbers: indices and thicknesses side by side, in the order of deposition. */
function film(n: readonly number[], thicknessNm: readonly number[]) {
  return n.map((value, i) => ({ n: value, thicknessNm: thicknessNm[i]! }));
}

describe('quarter wave', () => {
  it('of MgF2 1.38 on glass 1.52 leaves 1.26 % (Macleod, Thin-Film Optical Filters; from memory)', () => {
    expect(quarterWaveReflectance(1.38, 1, 1.52)).toBeCloseTo(0.0126, 4);
  });

  it('agrees with the matrices', () => {
    fc.assert(
      fc.property(index, index, (n, substrate) => {
        const layers = [{ n, thicknessNm: quarterWaveNm(n, 550) }];
        expect(matrixReflectance(550, 1, layers, substrate)).toBeCloseTo(
          quarterWaveReflectance(n, 1, substrate),
          12,
        );
      }),
    );
  });

  it('leaves nothing where the index is the root of the substrate', () => {
    expect(quarterWaveReflectance(1.5, 1, 2.25)).toBe(0);
  });

  it('refuses indices outside 1 to 10', () => {
    expect(() => quarterWaveNm(0.9, 550)).toThrow('n: 0.9 is below 1');
  });
});

describe('two-layer zero', () => {
  const indices = fc.record({ incident: index, outer: index, inner: index, substrate: index });

  it('leaves nothing for whatever indices allow it', () => {
    fc.assert(
      fc.property(indices, (media) => {
        for (const { innerNm, outerNm } of twoLayerZeros(media, 550)) {
          const layers = film([media.inner, media.outer], [innerNm, outerNm]);
          expect(Math.min(innerNm, outerNm)).toBeGreaterThanOrEqual(0);
          expect(matrixReflectance(550, media.incident, layers, media.substrate)).toBeLessThan(1e-9);
        }
      }),
      { numRuns: 500 },
    );
  });

  it('finds every zero that a search over both phases finds', () => {
    for (const media of [
      { incident: 1, outer: 1.38, inner: 2.1, substrate: 1.52 },
      { incident: 1, outer: 1.38, inner: 1.7, substrate: 1.62 },
      { incident: 1, outer: 2.1, inner: 1.38, substrate: 1.52 },
      { incident: 1, outer: 1.46, inner: 1.62, substrate: 1.8 },
    ]) {
      const found = twoLayerZeros(media, 550);
      const half = (n: number) => 550 / (2 * n);
      const steps = 160;
      const value = (i: number, j: number) =>
        matrixReflectance(
          550,
          media.incident,
          film(
            [media.inner, media.outer],
            [(i / steps) * half(media.inner), (j / steps) * half(media.outer)],
          ),
          media.substrate,
        );
      let minima = 0;
      for (let i = 1; i < steps; i++)
        for (let j = 1; j < steps; j++) {
          const here = value(i, j);
          const around = [-1, 0, 1].flatMap((di) => [-1, 0, 1].map((dj) => value(i + di, j + dj)));
          if (here < 2e-4 && here === Math.min(...around)) minima++;
        }
      expect(found.length).toBe(minima);
    }
  });

  it('has one solution of two quarter waves where outer² ns = n0 inner²', () => {
    const inner = 1.38 * Math.sqrt(1.52);
    const found = twoLayerZeros({ incident: 1, outer: 1.38, inner, substrate: 1.52 }, 550);
    expect(found).toHaveLength(1);
    expect(found[0]!.outerNm).toBeCloseTo(quarterWaveNm(1.38, 550), 9);
    expect(found[0]!.innerNm).toBeCloseTo(quarterWaveNm(inner, 550), 9);
  });

  it('has none where both indices lie between the root of the substrate and the quarter-quarter curve', () => {
    expect(twoLayerZeros({ incident: 1, outer: 1.38, inner: 1.5, substrate: 1.52 }, 550)).toEqual([]);
  });
});

describe('quarter-half-quarter', () => {
  it('leaves nothing at its wavelength where the inner index is the wanted one', () => {
    const inner = innerIndexWanted(1.38, 1, 1.52);
    const layers = film([inner, 2.1, 1.38], quarterHalfQuarter({ inner, middle: 2.1, outer: 1.38 }, 550));
    expect(matrixReflectance(550, 1, layers, 1.52)).toBeLessThan(1e-12);
    // Cox, Hass & Thelen (1962) chose it to widen the band: beside the centre it beats the bare quarter waves.
    const two = [layers[0]!, layers[2]!];
    expect(matrixReflectance(450, 1, layers, 1.52)).toBeLessThan(matrixReflectance(450, 1, two, 1.52));
    expect(matrixReflectance(680, 1, layers, 1.52)).toBeLessThan(matrixReflectance(680, 1, two, 1.52));
  });
});

describe('equivalent symmetrical period', () => {
  it('acts as the single layer that it stands for, on any substrate', () => {
    fc.assert(
      fc.property(
        index,
        index,
        index,
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0.05, max: 1.95, noNaN: true }),
        (na, nb, substrate, share, quarters) => {
          fc.pre(Math.abs(na - nb) > 0.01);
          const target = na + share * (nb - na);
          const periods = equivalentPeriods({
            outerIndex: na,
            middleIndex: nb,
            targetIndex: Math.min(Math.max(target, Math.min(na, nb)), Math.max(na, nb)),
            wavelengthNm: 550,
            quarters,
          });
          expect(periods.length).toBeGreaterThan(0);
          const single = [{ n: target, thicknessNm: quarterWaveNm(target, 550, quarters) }];
          for (const { outerNm, middleNm } of periods) {
            const layers = film([na, nb, na], [outerNm, middleNm, outerNm]);
            expect(matrixReflectance(550, 1, layers, substrate)).toBeCloseTo(
              matrixReflectance(550, 1, single, substrate),
              8,
            );
          }
        },
      ),
      { numRuns: 300 },
    );
  });

  it('refuses an index that does not lie between the two', () => {
    const input = { outerIndex: 1.38, middleIndex: 2.1, targetIndex: 2.3, wavelengthNm: 550 };
    expect(() => equivalentPeriods(input)).toThrow('targetIndex: 2.3 is above 2.1');
    expect(() => equivalentPeriods({ ...input, middleIndex: 1.38 })).toThrow('equals the outer index');
  });
});

describe('four layers with a thin inner pair', () => {
  it('leave nothing at their wavelength and little across the visible', () => {
    const solutions = fourLayerThinPair({ incident: 1, low: 1.38, high: 2.1, substrate: 1.52 }, 520);
    expect(solutions.length).toBeGreaterThan(0);
    for (const thicknessNm of solutions)
      expect(matrixReflectance(520, 1, film([2.1, 1.38, 2.1, 1.38], thicknessNm), 1.52)).toBeLessThan(1e-12);
    const thin = film([2.1, 1.38, 2.1, 1.38], solutions[0]!);
    expect(thin[0]!.thicknessNm).toBeLessThan(quarterWaveNm(2.1, 520) / 2);
    expect(thin[1]!.thicknessNm).toBeLessThan(quarterWaveNm(1.38, 520) / 2);
    for (let nm = 430; nm <= 650; nm += 10) expect(matrixReflectance(nm, 1, thin, 1.52)).toBeLessThan(0.01);
  });

  it('do not exist where the pair cannot reach the admittance', () => {
    expect(fourLayerThinPair({ incident: 1.6, low: 1.1, high: 1.15, substrate: 1.52 }, 520)).toEqual([]);
  });
});
