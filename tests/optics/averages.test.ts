import { describe, expect, it } from 'vitest';
import { coneRays } from '../../src/optics/average-light.ts';
import { computeAveragedSpectrum, computeSpectrum } from '../../src/optics/spectrum.ts';
import { plainStack } from './support/stacks.ts';

const RAD = Math.PI / 180;
const layers = [2.3, [1.46, 1e-3], 2.3, 1.38] as const;
const thicknessNm = Float64Array.of(60, 480, 200, 95);
const at = (nm: Float64Array) => ({ stack: plainStack([...nm], 1, layers, 1.52) });
const averaged = (averageOver: object, incidenceRad = 0, derivative = false) =>
  computeAveragedSpectrum(at, Float64Array.of(500, 600), thicknessNm, {
    incidenceRad: [incidenceRad],
    averageOver,
    derivative,
  });
const sharp = (nm: Float64Array, incidenceRad: number) =>
  computeSpectrum(at(nm).stack, thicknessNm, { incidenceRad: [incidenceRad] })[0]!;

/** Midpoint rule over a band of wavelengths, all at once: error of order 1 / points². */
function overBand(
  points: number,
  fromNm: number,
  toNm: number,
  weight: (nm: number) => number,
  of: (spectra: ReturnType<typeof sharp>) => Float64Array,
): number {
  const nm = Float64Array.from({ length: points }, (_, i) => fromNm + ((toNm - fromNm) * (i + 0.5)) / points);
  const weights = nm.map(weight);
  const values = of(sharp(nm, 0));
  return (
    values.reduce((sum, value, i) => sum + weights[i]! * value, 0) /
    weights.reduce((sum, value) => sum + value, 0)
  );
}

/** Simpson's rule on (0, 1): error of order 1 / panels⁴. */
function simpson(panels: number, value: (fraction: number) => number): number {
  let sum = 0;
  for (let i = 0; i <= 2 * panels; i++)
    sum += (i % (2 * panels) === 0 ? 1 : i % 2 === 0 ? 2 : 4) * value(i / (2 * panels));
  return sum / (6 * panels);
}

describe('an average', () => {
  it('over a rectangular band equals a sum over many wavelengths', () => {
    const { angles, warnings } = averaged({ bandwidthNm: 12 });
    const expected = overBand(
      4000,
      494,
      506,
      () => 1,
      ({ s }) => s.R,
    );
    expect(angles[0]!.s.R[0]).toBeCloseTo(expected, 9);
    expect(warnings).toEqual([]);
  });

  it('over a Gaussian band weighs by exp(−4 ln 2 (Δ/width)²)', () => {
    const { angles } = averaged({ bandwidthNm: 10, bandShape: 'gaussian' });
    const weight = (nm: number) => Math.exp(-4 * Math.LN2 * ((nm - 600) / 10) ** 2);
    const expected = overBand(2000, 560, 640, weight, ({ s }) => s.T);
    expect(angles[0]!.s.T[1]).toBeCloseTo(expected, 9);
  });

  it('over a cone around the normal weighs each angle by its sine', () => {
    const half = 20 * RAD;
    const { angles } = averaged({ coneHalfAngleRad: half });
    for (const one of ['s', 'p'] as const) {
      const nm = Float64Array.of(500);
      const sum = simpson(50, (f) => Math.sin(f * half) * sharp(nm, f * half)[one].R[0]!);
      const norm = (1 - Math.cos(half)) / half;
      expect(angles[0]![one].R[0]).toBeCloseTo(sum / norm, 9);
    }
  });

  it('over a tilted cone equals a sum over a disc of directions', () => {
    const [half, axis] = [10 * RAD, 40 * RAD];
    const { angles } = averaged({ coneHalfAngleRad: half }, axis);
    const nm = Float64Array.of(600);
    // Around the axis equal steps, which are exact for a function of few waves.
    const AROUND = 12;
    const sum = simpson(14, (f) => {
      const alpha = f * half;
      let ring = 0;
      for (let k = 0; k < AROUND; k++) {
        const azimuth = (2 * Math.PI * k) / AROUND;
        const angle = Math.acos(
          Math.cos(axis) * Math.cos(alpha) + Math.sin(axis) * Math.sin(alpha) * Math.cos(azimuth),
        );
        ring += sharp(nm, angle).mean.T[0]! / AROUND;
      }
      return Math.sin(alpha) * ring;
    });
    expect(angles[0]!.mean.T[1]).toBeCloseTo(sum / ((1 - Math.cos(half)) / half), 8);
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
    const here = averaged(averageOver, 0, true).angles[0]!;
    const moved = (shift: number) => {
      const nm = thicknessNm.slice();
      nm[1]! += shift;
      return computeAveragedSpectrum(at, Float64Array.of(500), nm, { incidenceRad: [0], averageOver });
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
    expect(thick.warnings).toEqual([
      expect.stringMatching(
        /^The average may still be off by \d\.\de[-+]\d+; its fringes are too dense to resolve\.$/,
      ),
    ]);
  });
});
