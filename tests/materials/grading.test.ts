import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { parse } from '../../src/base/schema.ts';
import { gradedIndex, gradingProfile, layerGrading, sublayersFor } from '../../src/materials/grading.ts';
import { resolveIndex } from '../../src/materials/index-spec.ts';

const zro2 = (wavelengthNm: Float64Array) => resolveIndex('zro2', wavelengthNm);

describe("a graded layer's profile", () => {
  it.each([-0.5, -0.07, 0.2, 0.5])('keeps the mean permittivity of a linear index, change %f', (change) => {
    const profile = gradingProfile(change, 12);
    const mean = profile.reduce((sum, factor) => sum + factor * factor, 0) / 12;
    // The integral of (1 + c (x − ½))² over x from 0 to 1.
    expect(mean).toBeCloseTo(1 + change ** 2 / 12, 14);
  });

  it('rises from the substrate outwards where the change is positive, and the other way round', () => {
    const profile = gradingProfile(0.2, 10);
    expect([...profile].sort((a, b) => a - b)).toEqual([...profile]);
    expect(profile[0]).toBeGreaterThan(0.9);
    expect(profile[9]).toBeLessThan(1.1);
    const mirrored = gradingProfile(-0.2, 10).toReversed();
    mirrored.forEach((factor, i) => {
      expect(factor).toBeCloseTo(profile[i]!, 15);
    });
  });

  it('takes more sublayers for thicker layers, shorter waves and steeper slopes, two at least', () => {
    expect(sublayersFor(0.0001, 0.01)).toBe(2);
    expect(sublayersFor(-0.07, 0.25)).toBe(10);
    expect(sublayersFor(-0.07, 0.5)).toBeGreaterThan(sublayersFor(-0.07, 0.25));
    expect(sublayersFor(-0.3, 0.25)).toBeGreaterThan(sublayersFor(-0.07, 0.25));
  });
});

describe('the index of a graded layer', () => {
  const grid = Float64Array.of(450, 550);

  it('is that of its material with a profile', () => {
    const index = gradedIndex(zro2, { indexChangePercent: -6, sublayers: 4 }, 130, 400);
    expect(index(grid).n).toEqual(zro2(grid).n);
    expect(index(grid).profile).toEqual(gradingProfile(-0.06, 4));
  });

  it('is one medium wherever the material gives one, so that tables are shared', () => {
    const plain = zro2(grid);
    const index = gradedIndex(() => plain, { indexChangePercent: -6 }, 130, 400);
    expect(index(grid)).toBe(index(grid));
  });

  it('chooses the sublayers for the shortest wavelength', () => {
    const count = (shortestNm: number) =>
      gradedIndex(zro2, { indexChangePercent: -6 }, 130, shortestNm)(grid).profile!.length;
    expect(count(400)).toBeGreaterThan(count(800));
  });

  it('is the very index of the material where nothing changes', () => {
    expect(gradedIndex(zro2, { indexChangePercent: 0 }, 130, 400)).toBe(zro2);
    expect(gradedIndex(zro2, undefined, 130, 400)).toBe(zro2);
  });

  it('is refused where it would take too many sublayers', () => {
    expect(() =>
      gradedIndex(() => ({ n: Float64Array.of(2) }), { indexChangePercent: 10 }, 1e5, 400),
    ).toThrow('grading: 100000 nm take');
  });
});

describe('the grading of a request', () => {
  it.each([
    [{ indexChangePercent: 60 }, 'indexChangePercent: 60 % is above 50 %'],
    [{ indexChangePercent: 6, sublayers: 3 }, 'sublayers: 3 sublayers are not an even number'],
    [{ indexChangePercent: 6, sublayers: 0 }, 'sublayers: 0 is below 2'],
    [{}, 'indexChangePercent: is missing'],
  ])('%j is refused with one sentence', (given, sentence) => {
    expect(() => parse(v.strictObject({ grading: layerGrading }), { grading: given })).toThrow(sentence);
  });
});
