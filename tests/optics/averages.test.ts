import { describe, expect, it } from 'vitest';
import { coneRays } from '../../src/optics/average-light.ts';
import { computeAveragedSpectrum, computeSpectrum } from '../../src/optics/spectrum.ts';
import { plainStack } from './support/stacks.ts';

const RAD = Math.PI / 180;
const layers = [2.3, [1.46, 1e-3], 2.3, 1.38] as const;
const thicknessNm = Float64Array.of(60, 480, 200, 95);
const at = (nm: Float64Array) => ({ stack: plainStack([...nm], 1, layers, 1.52) });
const averaged = (averageOver: object, incidenceRad = 0) =>
  computeAveragedSpectrum(at, Float64Array.of(500, 600), thicknessNm, {
    incidenceRad: [incidenceRad],
    averageOver,
    derivative: true,
  });
const sharp = (nm: number, incidenceRad: number) =>
  computeSpectrum(at(Float64Array.of(nm)).stack, thicknessNm, { incidenceRad: [incidenceRad] })[0]!;

/** Midpoint rule with many points: error of order 1 / points². */
function midpoint(points: number, value: (fraction: number) => number): number {
  let sum = 0;
  for (let i = 0; i < points; i++) sum += value((i + 0.5) / points);
  return sum / points;
}

describe('an average', () => {
  it('over a rectangular band equals a sum over many wavelengths', () => {
    const { angles, warnings } = averaged({ bandwidthNm: 12 });
    const expected = midpoint(4000, (x) => sharp(500 + 12 * (x - 0.5), 0).s.R[0]!);
    expect(angles[0]!.s.R[0]).toBeCloseTo(expected, 7);
    expect(warnings).toEqual([]);
  });

  it('over a Gaussian band weighs by exp(−4 ln 2 (Δ/width)²)', () => {
    const { angles } = averaged({ bandwidthNm: 10, bandShape: 'gaussian' });
    const weight = (x: number) => Math.exp(-4 * Math.LN2 * x * x);
    const norm = midpoint(2000, (f) => weight(8 * (f - 0.5)));
    const expected =
      midpoint(2000, (f) => weight(8 * (f - 0.5)) * sharp(600 + 80 * (f - 0.5), 0).s.T[0]!) / norm;
    expect(angles[0]!.s.T[1]).toBeCloseTo(expected, 8);
  });

  it('over a cone around the normal weighs each angle by its sine', () => {
    const half = 20 * RAD;
    const { angles } = averaged({ coneHalfAngleRad: half });
    for (const one of ['s', 'p'] as const) {
      const sum = midpoint(2000, (f) => Math.sin(f * half) * sharp(500, f * half)[one].R[0]!);
      const norm = midpoint(2000, (f) => Math.sin(f * half));
      expect(angles[0]![one].R[0]).toBeCloseTo(sum / norm, 7);
    }
  });

  it('over a tilted cone equals a sum over a disc of directions', () => {
    const [half, axis] = [10 * RAD, 40 * RAD];
    const { angles } = averaged({ coneHalfAngleRad: half }, axis);
    let [sum, norm] = [0, 0];
    for (let i = 0; i < 60; i++) {
      const alpha = ((i + 0.5) / 60) * half;
      for (let k = 0; k < 60; k++) {
        const azimuth = (2 * Math.PI * (k + 0.5)) / 60;
        const angle = Math.acos(
          Math.cos(axis) * Math.cos(alpha) + Math.sin(axis) * Math.sin(alpha) * Math.cos(azimuth),
        );
        sum += Math.sin(alpha) * sharp(600, angle).mean.T[0]!;
        norm += Math.sin(alpha);
      }
    }
    expect(angles[0]!.mean.T[1]).toBeCloseTo(sum / norm, 5);
  });

  it('of a cone keeps the mean of cos θ: (1 + cos half angle) / 2 times the axis', () => {
    // Mean direction of a spherical cap (elementary geometry).
    for (const axis of [0, 0.3, 0.9]) {
      const mean = coneRays(axis, 0.5, 24).reduce(
        (sum, ray) => sum + ray.weight * Math.cos(ray.incidenceRad),
        0,
      );
      expect(mean).toBeCloseTo(((1 + Math.cos(0.5)) / 2) * Math.cos(axis), 13);
    }
  });

  it('averages derivatives with the values, over band and cone at once', () => {
    const averageOver = { bandwidthNm: 8, coneHalfAngleRad: 0.1 };
    const here = averaged(averageOver, 0.3).angles[0]!;
    const moved = (shift: number) => {
      const nm = thicknessNm.slice();
      nm[1]! += shift;
      return computeAveragedSpectrum(at, Float64Array.of(500), nm, { incidenceRad: [0.3], averageOver });
    };
    const slope = (moved(0.05).angles[0]!.p.R[0]! - moved(-0.05).angles[0]!.p.R[0]!) / 0.1;
    expect(here.p.derivative!.R[1]).toBeCloseTo(slope, 6);
  });

  it('refuses a band that reaches no light and a cone that reaches past the surface', () => {
    expect(() => averaged({ bandwidthNm: 1200 })).toThrow(
      'averageOver.bandwidthNm: the band reaches 600 nm to either side of 500 nm, down to no light at all',
    );
    expect(() => averaged({ coneHalfAngleRad: 0.8 }, 0.8)).toThrow(
      /averageOver.coneHalfAngleRad: the cone reaches 1.6 rad/,
    );
  });

  it('says so where fringes are too dense to resolve', () => {
    const thick = computeAveragedSpectrum(
      (nm) => ({ stack: plainStack([...nm], 1, [2.3], 1.52) }),
      Float64Array.of(500),
      Float64Array.of(2e8),
      { incidenceRad: [0], averageOver: { bandwidthNm: 100 } },
    );
    expect(thick.warnings).toHaveLength(1);
  });
});
