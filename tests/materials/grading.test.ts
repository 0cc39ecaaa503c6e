import { describe, expect, it } from 'vitest';
import { gradedSublayers } from '../../src/materials/grading.ts';
import { resolveIndex } from '../../src/materials/index-spec.ts';
import { SpectrumSolver } from '../../src/optics/spectrum-solver.ts';

const wavelengthNm = Float64Array.from({ length: 31 }, (_, i) => 400 + 10 * i);
const slope = { firstScale: 1, lastScale: 0.93 };

function reflectanceOf(sublayers: number): Float64Array {
  const layers = gradedSublayers(2.05, 270, { ...slope, sublayers });
  const solver = new SpectrumSolver(
    {
      wavelengthNm,
      incident: resolveIndex(1, wavelengthNm),
      layers: layers.map((layer) => resolveIndex(layer.material, wavelengthNm)),
      substrate: resolveIndex(1.52, wavelengthNm),
    },
    0,
    's',
  );
  const [reflectance, transmittance] = [new Float64Array(31), new Float64Array(31)];
  solver.spectrum(
    Float64Array.from(layers, (layer) => layer.thicknessNm),
    reflectance,
    transmittance,
  );
  return reflectance;
}

describe('a graded layer', () => {
  it('keeps its thickness and its mean index', () => {
    const layers = gradedSublayers(2, 100, { firstScale: 1.1, lastScale: 0.9, sublayers: 4 });
    expect(layers.map((layer) => layer.thicknessNm)).toEqual([25, 25, 25, 25]);
    const index = layers.map((layer) => resolveIndex(layer.material, Float64Array.of(550)).n[0]!);
    expect(index[0]).toBeCloseTo(2 * 1.075, 14);
    expect(index.reduce((a, b) => a + b) / 4).toBeCloseTo(2, 14);
  });

  it('goes on from a variant', () => {
    const base = { variantOf: 'zro2', indexScale: 0.98, addedK: 1e-4 };
    const [only] = gradedSublayers(base, 100, { firstScale: 1, lastScale: 0.9, sublayers: 1 });
    expect(only?.material).toEqual({ ...base, indexScale: 0.98 * 0.95 });
  });

  it('comes to its limit with the square of the number of sublayers, ten being enough', () => {
    const limit = reflectanceOf(200);
    const error = (sublayers: number) => {
      const reflectance = reflectanceOf(sublayers);
      return Math.max(...reflectance.map((value, i) => Math.abs(value - limit[i]!)));
    };
    expect(error(5) / error(10)).toBeGreaterThan(3.5);
    expect(error(10)).toBeLessThan(2e-4);
  });

  it.each([
    [{ firstScale: 3, lastScale: 1 }, 'firstScale: 3 is above 2'],
    [{ firstScale: 1, lastScale: 0 }, 'lastScale: 0 is below 0.5'],
    [{ ...slope, sublayers: 0 }, 'sublayers: 0 is below 1'],
    [{ ...slope, sublayers: 2.5 }, 'sublayers: 2.5 is not a whole number'],
  ])('%j is refused with one sentence', (grading, sentence) => {
    expect(() => gradedSublayers(2, 100, grading)).toThrow(sentence);
  });
});
