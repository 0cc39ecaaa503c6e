import { describe, expect, it } from 'vitest';
import { quarterWaveNm, quarterWaveReflectance } from '../../src/design/closed-forms/quarter-wave.ts';
import { type CoatedSurface, constantIndex } from '../../src/design/coated-surface.ts';
import { evaluateRequirements, evaluateSampled } from '../../src/design/evaluate.ts';
import type { Requirement } from '../../src/design/requirement.ts';

const base: Requirement = {
  quantity: 'R',
  statistic: 'mean',
  limit: 1.5,
  sense: 'below',
  bandNm: [450, 650],
  incidenceDeg: [0],
  polarization: 'mean',
  weight: 1,
};
const quarterWave: CoatedSurface = {
  incident: constantIndex(1),
  layers: [{ index: constantIndex(1.38), thicknessNm: quarterWaveNm(1.38, 550) }],
  substrate: constantIndex(1.52),
};
const bare = { ...quarterWave, layers: [] };
const one = (change: Partial<Requirement>, surface = quarterWave) =>
  evaluateRequirements([{ ...base, ...change }], surface)[0]!;

describe('evaluateRequirements', () => {
  it('finds the least reflectance of a quarter wave at its own wavelength, between the points too', () => {
    for (const bandNm of [
      [450, 650],
      [437, 691],
    ] as const) {
      const result = one({ statistic: 'min', bandNm, limit: 2 });
      // The place is known to 1/64 of a step of 4 nm, where the parabola has risen by less than 5e-8 %.
      expect(result.value).toBeCloseTo(100 * quarterWaveReflectance(1.38, 1, 1.52), 7);
    }
    expect(
      one({ statistic: 'min', bandNm: [437, 691], sense: 'above', limit: 1 }).worstWavelengthNm,
    ).toBeCloseTo(550, 0);
  });

  it('gives a bare surface the reflectance of Fresnel at every wavelength', () => {
    const fresnel = 100 * ((1.52 - 1) / (1.52 + 1)) ** 2;
    for (const statistic of ['mean', 'max', 'min'] as const)
      expect(one({ statistic }, bare).value).toBeCloseTo(fresnel, 10);
  });

  it('lets the worst of the angles decide and names it', () => {
    const result = one({ incidenceDeg: [0, 25, 50], limit: 3 });
    const alone = [0, 25, 50].map((angle) => one({ incidenceDeg: [angle] }).value);
    expect(result.value).toBe(Math.max(...alone));
    expect(result.worstIncidenceDeg).toBe(50);
  });

  it('averages s and p for unpolarized light', () => {
    const [s, p, mean] = (['s', 'p', 'mean'] as const).map(
      (polarization) => one({ polarization, incidenceDeg: [45] }).value,
    );
    expect(mean).toBeCloseTo((s! + p!) / 2, 10);
    expect(s).toBeGreaterThan(p!);
  });

  it('has the margin positive where met, on either side of the limit', () => {
    const met = one({ limit: 2 });
    expect(met.met).toBe(true);
    expect(met.margin).toBeCloseTo(2 - met.value, 12);
    const missed = one({ limit: 1 });
    expect(missed.met).toBe(false);
    expect(missed.margin).toBeCloseTo(1 - missed.value, 12);
    const through = one({ quantity: 'T', statistic: 'min', sense: 'above', limit: 98 });
    expect(through.met).toBe(true);
    expect(through.margin).toBeCloseTo(through.value - 98, 12);
  });

  it('adds up: R, T and A of the same light make 100 %', () => {
    const absorbing = {
      ...quarterWave,
      layers: [{ index: constantIndex(2, 0.05), thicknessNm: 80 }],
    };
    const parts = (['R', 'T', 'A'] as const).map(
      (quantity) => one({ quantity, incidenceDeg: [30] }, absorbing).value,
    );
    expect(parts[2]).toBeGreaterThan(1);
    expect(parts[0]! + parts[1]! + parts[2]!).toBeCloseTo(100, 9);
  });

  it('takes a band of equal ends as a line', () => {
    const result = one({ statistic: 'max', bandNm: [550, 550] });
    expect(result.value).toBeCloseTo(100 * quarterWaveReflectance(1.38, 1, 1.52), 10);
    expect(result.worstWavelengthNm).toBe(550);
  });
});

describe('evaluateSampled', () => {
  // A spike narrower than two steps of the grid, its top between the points.
  const spike = (wavelengthNm: Float64Array) =>
    wavelengthNm.map((nm) => 0.01 + 0.02 * Math.exp(-(((nm - 551.3) / 4) ** 2)));

  it('does not miss an extremum between the points', () => {
    const result = evaluateSampled({ ...base, statistic: 'max', limit: 2 }, spike, 61);
    expect(result.value).toBeCloseTo(3, 3);
    expect(result.worstWavelengthNm).toBeCloseTo(551.3, 0);
  });

  it('takes the mean by Simpson’s rule: exact for a cubic', () => {
    const cubic = (wavelengthNm: Float64Array) => wavelengthNm.map((nm) => ((nm - 450) / 200) ** 3);
    expect(evaluateSampled(base, cubic, 61).value).toBeCloseTo(25, 10);
  });
});
