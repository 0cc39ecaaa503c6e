import { describe, expect, it } from 'vitest';
import {
  AVERAGE_TOLERANCE,
  averageOverBand,
  averageOverCone,
  bandReach,
  coneRays,
  type LightAt,
  MOST_POINTS,
} from '../../src/optics/average-light.ts';

/** Light that is made up: R and T as functions of the wavelength and of the angle, each with derivatives twice as large. */
function madeUp(of: (nm: number, rad: number) => { R: number; T: number }) {
  const asked: { nm: number; rad: number }[] = [];
  const lightAt: LightAt = (wavelengthNm, rad) => {
    asked.push({ nm: wavelengthNm[0]!, rad });
    const R = wavelengthNm.map((nm) => of(nm, rad).R);
    const T = wavelengthNm.map((nm) => of(nm, rad).T);
    const twice = (values: Float64Array) => values.map((value) => 2 * value);
    return { R, T, derivative: { R: twice(R), T: twice(T) } };
  };
  return { lightAt, asked };
}
/** A number that is another one each time. */
function rising(): () => number {
  let level = 0;
  return () => {
    level += 1e-3;
    return level;
  };
}
const nm = Float64Array.of(500, 620);
const rectangular = { bandwidthNm: 10, shape: 'rectangular', cycles: 0 } as const;
const gaussian = { bandwidthNm: 10, shape: 'gaussian', cycles: 0 } as const;
const squares = madeUp((one) => ({ R: (one / 1000) ** 2, T: (one / 1000) ** 3 }));

describe('an average over a band', () => {
  it.each([
    // Variance of an even band of width w: w² / 12; of a Gaussian of that full width at half maximum: w² / (8 ln 2).
    ['rectangular', rectangular, 100 / 12],
    ['gaussian', gaussian, 100 / (8 * Math.LN2)],
  ] as const)('that is %s has the moments of its shape', (_, band, variance) => {
    const { light, lastChange } = averageOverBand(squares.lightAt, nm, 0, band);
    nm.forEach((centre, w) => {
      const [second, third] = [centre ** 2 + variance, centre ** 3 + 3 * centre * variance];
      expect(light.R[w]).toBeCloseTo(second / 1e6, 13);
      expect(light.T[w]).toBeCloseTo(third / 1e9, 13);
      expect(light.derivative!.R[w]).toBeCloseTo((2 * second) / 1e6, 13);
      expect(light.derivative!.T[w]).toBeCloseTo((2 * third) / 1e9, 13);
    });
    expect(lastChange).toBeLessThan(AVERAGE_TOLERANCE);
  });

  it('asks for light at the angle and within the reach of its shape: half a band, or 6.5 standard deviations', () => {
    for (const [band, reach] of [
      [rectangular, 0.5],
      [gaussian, 6.5 / Math.sqrt(8 * Math.LN2)],
    ] as const) {
      expect(bandReach(band.shape)).toBeCloseTo(reach, 14);
      const { lightAt, asked } = madeUp(() => ({ R: 0.5, T: 0.5 }));
      averageOverBand(lightAt, nm, 0.4, band);
      const away = asked.map((one) => one.nm - 500);
      expect(Math.max(...away)).toBeLessThanOrEqual(10 * reach + 1e-9);
      expect(Math.max(...away)).toBeGreaterThan(9.8 * reach);
      expect(Math.min(...away)).toBeCloseTo(-Math.max(...away), 9);
      expect(asked.every(({ rad }) => rad === 0.4)).toBe(true);
    }
  });

  it.each([
    ['rectangular', 0, 8],
    ['rectangular', 20.5, 50],
    ['rectangular', 1e9, 8 + MOST_POINTS / 4],
    ['gaussian', 0, 8],
    ['gaussian', 20.5, 8 + 2 * 123],
  ] as const)(
    'that is %s begins with points enough for its fringes: for %f of them with %i points',
    (shape, cycles, first) => {
      // What doesn't change needs one refinement: first and twice as many, in panels of at most 64 each alike.
      const { lightAt, asked } = madeUp(() => ({ R: 0.5, T: 0.25 }));
      const { light } = averageOverBand(lightAt, nm, 0, { bandwidthNm: 10, shape, cycles });
      expect(light.R[0]).toBeCloseTo(0.5, 13);
      expect(light.T[1]).toBeCloseTo(0.25, 13);
      expect(asked.length).toBeGreaterThanOrEqual(3 * first);
      expect(asked.length).toBeLessThan(3 * first + 2 * Math.ceil((3 * first) / 64) + 1);
    },
  );

  it.each(['R', 'T'] as const)('is refined until %s stands still, and gives up at most points', (which) => {
    const level = rising();
    let asked = 0;
    const lightAt: LightAt = () => {
      asked++;
      const still = Float64Array.of(0.5);
      return { R: still, T: still, [which]: Float64Array.of(level()) };
    };
    const { light, lastChange } = averageOverBand(lightAt, Float64Array.of(500), 0, rectangular);
    expect(lastChange).toBeGreaterThan(AVERAGE_TOLERANCE);
    // 8, 16, … 4096 points.
    expect(asked).toBe(2 * MOST_POINTS - 8);
    expect(light).not.toHaveProperty('derivative');
  });

  it.each(['R', 'T'] as const)('is refined until the derivatives of %s stand still as well', (which) => {
    const level = rising();
    const lightAt: LightAt = () => {
      const still = Float64Array.of(0.5);
      const derivative = { R: still, T: still, [which]: Float64Array.of(level()) };
      return { R: still, T: still, derivative };
    };
    const { lastChange } = averageOverBand(lightAt, Float64Array.of(500), 0, rectangular);
    expect(lastChange).toBeGreaterThan(1e-3);
  });

  it('resolves fringes of which it is told to 1e-12', () => {
    // The mean of sin² over whole fringes is 1/2.
    const fringes = madeUp((one) => ({ R: Math.sin((Math.PI * 300 * one) / 10) ** 2, T: 0 }));
    const { light, lastChange } = averageOverBand(fringes.lightAt, Float64Array.of(500), 0, {
      ...rectangular,
      cycles: 300,
    });
    expect(light.R[0]).toBeCloseTo(0.5, 12);
    expect(lastChange).toBeLessThan(AVERAGE_TOLERANCE);
  });
});

describe('an average over a cone', () => {
  // Mean of cos² over a spherical cap of half angle h: (1 + cos h + cos² h) / 3 along its axis, half the rest across it.
  const half = 0.35;
  const along = (1 + Math.cos(half) + Math.cos(half) ** 2) / 3;
  const mean = (axis: number) => along * Math.cos(axis) ** 2 + ((1 - along) / 2) * Math.sin(axis) ** 2;

  it.each([0, 1e-3, 0.6, 1.2])('around %f rad has the mean of cos² of a spherical cap', (axis) => {
    const cosines = madeUp((one, rad) => ({ R: Math.cos(rad) ** 2, T: one * Math.sin(rad) ** 2 }));
    const { light, lastChange } = averageOverCone(cosines.lightAt, nm, axis, half);
    expect(light.R[0]).toBeCloseTo(mean(axis), 13);
    expect(light.T[1]! / 620).toBeCloseTo(1 - mean(axis), 13);
    expect(light.derivative!.R[1]).toBeCloseTo(2 * mean(axis), 13);
    expect(lastChange).toBeLessThan(AVERAGE_TOLERANCE);
  });

  it('takes one ray for each angle around the normal, since all that stand around it are alike', () => {
    expect(coneRays(0, half, 6)).toHaveLength(6);
    expect(coneRays(0.1, half, 6)).toHaveLength(36);
    for (const axis of [0, 0.1])
      expect(coneRays(axis, half, 200).reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
  });

  it('stays within the cone', () => {
    for (const axis of [0, 0.6]) {
      const angles = coneRays(axis, half, 40).map(({ incidenceRad }) => incidenceRad);
      expect(Math.max(...angles)).toBeLessThan(axis + half);
      expect(Math.max(...angles)).toBeGreaterThan(axis + half - 0.01);
      expect(Math.min(...angles)).toBeGreaterThanOrEqual(Math.max(0, axis - half));
    }
  });
});
