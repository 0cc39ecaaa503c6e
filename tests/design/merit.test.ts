import { describe, expect, it } from 'vitest';
import { twoLayerZeros } from '../../src/design/closed-forms/two-layer-zero.ts';
import { constantIndex, type IndexFunction } from '../../src/design/coated-surface.ts';
import { evaluateRequirements } from '../../src/design/evaluate.ts';
import { Merit } from '../../src/design/merit.ts';
import { meritGrid } from '../../src/design/merit-grid.ts';
import type { Requirement } from '../../src/design/requirement.ts';
import { bandGrid } from '../../src/design/wavelength-grid.ts';
import { AIR, FILMS, GLASS, reflectance } from './support/yardstick.ts';

const palette: IndexFunction[] = [...FILMS.map(({ index }) => index), constantIndex(2, 0.02)];
const materials = [3, 0, 5, 4, 1, 0];
const thickness = Float64Array.of(21, 40, 18, 110, 13, 80);

const cases: Record<string, Requirement[]> = {
  'a mean': [reflectance()],
  'a met mean, whose margin is widened': [reflectance({ limit: 30 })],
  'a mean within the rounded corner of its limit': [reflectance({ limit: 3.9 })],
  'a worst point': [reflectance({ statistic: 'max', limit: 1 })],
  'several angles, of which the worst decides': [reflectance({ incidenceDeg: [0, 30, 50] })],
  'a worst point at several angles': [reflectance({ statistic: 'max', incidenceDeg: [0, 40] })],
  'p polarization at a steep angle': [reflectance({ incidenceDeg: [55], polarization: 'p' })],
  'transmittance above its limit': [
    reflectance({ quantity: 'T', statistic: 'min', sense: 'above', limit: 99, incidenceDeg: [20] }),
  ],
  absorptance: [reflectance({ quantity: 'A', statistic: 'mean', limit: 0.5 })],
  'a best point': [reflectance({ statistic: 'min', limit: 0.01 })],
  'several with weights': [
    reflectance({ weight: 3 }),
    reflectance({ statistic: 'max', limit: 0.9, bandNm: [890, 920], incidenceDeg: [0, 20] }),
    reflectance({ quantity: 'T', statistic: 'mean', sense: 'above', limit: 98.5 }),
  ],
  'a limit of nothing': [reflectance({ limit: 0 })],
};

describe('the smooth merit', () => {
  for (const [name, requirements] of Object.entries(cases))
    it(`has the exact gradient for ${name}`, () => {
      const merit = new Merit(meritGrid(requirements, AIR, GLASS, palette, 31), materials);
      const size = materials.length;
      const gradient = new Float64Array(size);
      const curvature = new Float64Array(size * size);
      const value = merit.smoothWithDerivatives(thickness, 8, gradient, curvature);
      expect(value).toBeCloseTo(merit.smooth(thickness, 8), 10);
      const alone = new Float64Array(size);
      merit.smoothGradient(thickness, 8, alone);
      for (let i = 0; i < size; i++) {
        const moved = (by: number) => merit.smooth(thickness.with(i, thickness[i]! + by), 8);
        // Fourth-order differences: their error is of the order h⁴ and of rounding over h, both below 1e-7 of the value.
        const h = 0.02;
        const slope = (8 * (moved(h) - moved(-h)) - (moved(2 * h) - moved(-2 * h))) / (12 * h);
        expect(Math.abs(gradient[i]! - slope)).toBeLessThan(1e-6 * Math.max(1, Math.abs(value)));
        expect(Math.abs(alone[i]! - gradient[i]!)).toBeLessThan(1e-12 * Math.max(1, Math.abs(value)));
        for (let j = 0; j < size; j++) expect(curvature[i * size + j]).toBe(curvature[j * size + i]);
      }
    });

  it('tends to the merit itself as the power means sharpen', () => {
    const grid = meritGrid(cases['a worst point at several angles']!, AIR, GLASS, palette, 61);
    const merit = new Merit(grid, materials);
    const exact = merit.exact(thickness);
    const gaps = [8, 32, 128, 2048].map((power) => Math.abs(merit.smooth(thickness, power) - exact));
    for (let i = 1; i < gaps.length; i++) expect(gaps[i]!).toBeLessThan(gaps[i - 1]!);
    expect(gaps[3]!).toBeLessThan(0.01 * exact);
  });
});

describe('the merit', () => {
  const surface = {
    incident: AIR,
    layers: materials.map((place, i) => ({ index: palette[place]!, thicknessNm: thickness[i]! })),
    substrate: GLASS,
  };

  it('is the value over its limit where that is met, and counts excess ten times more', () => {
    for (const limit of [30, 5, 0.1]) {
      const requirement = reflectance({ limit });
      const merit = new Merit(meritGrid([requirement], AIR, GLASS, palette, 61), materials).exact(thickness);
      // A mean counts as the plain average of 61 even readings, whatever the grid.
      const readings = bandGrid([420, 680], 61).map(
        (nm) => evaluateRequirements([{ ...requirement, bandNm: [nm, nm] }], surface)[0]!.value,
      );
      const ratio = readings.reduce((sum, value) => sum + value, 0) / readings.length / limit;
      const expected = ratio + 10 * Math.max(0, ratio - 1);
      expect(Math.abs(merit / expected - 1)).toBeLessThan(0.005);
    }
  });

  it('bends as differences of its gradient say where nothing is reflected', () => {
    // Two layers of 1.38 on 2.1 on 1.52 that reflect nothing at 550 nm; there least squares leaves nothing out.
    const media = [1.38, 2.1].map((n) => constantIndex(n));
    const place = { incident: 1, outer: 1.38, inner: 2.1, substrate: 1.52 };
    const [zero] = twoLayerZeros(place, 550);
    const line = reflectance({ bandNm: [550, 550] });
    const merit = new Merit(meritGrid([line], AIR, constantIndex(1.52), media), [1, 0]);
    const at = Float64Array.of(zero!.innerNm, zero!.outerNm);
    const [gradient, curvature] = [new Float64Array(2), new Float64Array(4)];
    merit.smoothWithDerivatives(at, 2, gradient, curvature);
    const slopeAt = (layer: number, shift: number) => {
      merit.smoothGradient(at.with(layer, at[layer]! + shift), 2, gradient);
      return gradient.slice();
    };
    for (let j = 0; j < 2; j++) {
      const [more, less] = [slopeAt(j, 1e-3), slopeAt(j, -1e-3)];
      for (let i = 0; i < 2; i++)
        expect((more[i]! - less[i]!) / 2e-3 / curvature[2 * i + j]!).toBeCloseTo(1, 5);
    }
  });

  it('weighs requirements by their weights', () => {
    const [one, two] = [reflectance(), reflectance({ statistic: 'max', limit: 2 })];
    const value = (requirements: Requirement[]) =>
      new Merit(meritGrid(requirements, AIR, GLASS, palette, 61), materials).exact(thickness);
    expect(value([{ ...one, weight: 3 }, two])).toBeCloseTo(0.75 * value([one]) + 0.25 * value([two]), 10);
  });
});
