import { gaussLegendre } from '../math/gauss-legendre.ts';
import type { Light } from './front-light.ts';

/** R and T on a grid of wavelengths (nm) at one angle (rad). */
export type LightAt = (wavelengthNm: Float64Array, incidenceRad: number) => Light;

/** The largest change that another halving of the steps may still make, in R and T (and in 1/nm for derivatives). */
export const AVERAGE_TOLERANCE = 1e-9;
/** So many points along one coordinate at most. */
export const MOST_POINTS = 4096;

/** An average, and the change that its last refinement made: an upper estimate of what is still wrong. */
export interface Averaged {
  readonly light: Light;
  readonly lastChange: number;
}

export type BandShape = 'rectangular' | 'gaussian';

/**
 * Averages over the band of a monochromator around each wavelength: evenly over `bandwidthNm`, or by a Gaussian whose
 * full width at half maximum it is. Every wavelength counts by the light's power per nm, taken as constant
 * over the band.
 *
 * Rectangular: Gauss and Legendre's rule. Gaussian: equal steps over ±6.5 σ (all but 8e-11 of it), which
 * converges faster than any power of the step. Points are doubled until R and T move less than
 * AVERAGE_TOLERANCE. `cycles` says how many fringes the band may hold, so that the first points already
 * resolve them.
 */
export function averageOverBand(
  lightAt: LightAt,
  wavelengthNm: Float64Array,
  incidenceRad: number,
  band: { readonly bandwidthNm: number; readonly shape: BandShape; readonly cycles: number },
): Averaged {
  const { bandwidthNm, shape, cycles } = band;
  const first = 8 + Math.min(2 * Math.ceil(shape === 'gaussian' ? 6 * cycles : cycles), MOST_POINTS / 4);
  return refine(first, (points) => {
    const rule = shape === 'gaussian' ? gaussianBand(points) : rectangularBand(points);
    return rule.map(({ offset, weight }) => ({
      weight,
      light: () =>
        lightAt(
          wavelengthNm.map((nm) => nm + offset * bandwidthNm),
          incidenceRad,
        ),
    }));
  });
}

/** How far, in bandwidths, the points of a band reach from its centre. */
export function bandReach(shape: BandShape): number {
  return shape === 'gaussian' ? GAUSSIAN_REACH / FWHM_PER_SIGMA : 0.5;
}

const GAUSSIAN_REACH = 6.5;
const FWHM_PER_SIGMA = 2 * Math.sqrt(2 * Math.LN2);

interface BandPoint {
  /** In bandwidths. */
  readonly offset: number;
  readonly weight: number;
}

function rectangularBand(count: number): BandPoint[] {
  return unitRule(count).map(({ point, weight }) => ({ offset: point - 0.5, weight }));
}

const MOST_POINTS_A_PANEL = 64;

/** Gauss and Legendre's rule on (0, 1), in equal panels where it has many points; weights sum to 1. */
function unitRule(count: number): { point: number; weight: number }[] {
  const panels = Math.ceil(count / MOST_POINTS_A_PANEL);
  const { nodes, weights } = gaussLegendre(Math.ceil(count / panels));
  return Array.from({ length: panels }, (_, panel) =>
    Array.from(nodes, (node, i) => ({
      point: (panel + (1 + node) / 2) / panels,
      weight: weights[i]! / (2 * panels),
    })),
  ).flat();
}

function gaussianBand(count: number): BandPoint[] {
  const sigmas = Array.from({ length: count }, (_, i) => GAUSSIAN_REACH * ((2 * i) / (count - 1) - 1));
  const raw = sigmas.map((sigma) => Math.exp(-0.5 * sigma * sigma));
  const sum = raw.reduce((total, value) => total + value, 0);
  return sigmas.map((sigma, i) => ({ offset: sigma / FWHM_PER_SIGMA, weight: raw[i]! / sum }));
}

/**
 * Averages over a cone of rays of the given half angle around the axis, all directions within it alike
 * (uniform in solid angle). Each ray counts with s and p of its own plane of incidence, so that the mean of
 * both is that of natural light.
 *
 * From the axis outwards Gauss and Legendre's rule in sin²(α/2), in which the solid angle is even; around
 * the axis, where it is tilted, equal steps. Points are doubled until R and T move less than
 * AVERAGE_TOLERANCE.
 */
export function averageOverCone(
  lightAt: LightAt,
  wavelengthNm: Float64Array,
  axisRad: number,
  coneHalfAngleRad: number,
): Averaged {
  return refine(6, (points) =>
    coneRays(axisRad, coneHalfAngleRad, points).map(({ incidenceRad, weight }) => ({
      weight,
      light: () => lightAt(wavelengthNm, incidenceRad),
    })),
  );
}

/** Directions within a cone: their angles of incidence and weights, which sum to 1. */
export function coneRays(
  axisRad: number,
  halfAngleRad: number,
  count: number,
): { incidenceRad: number; weight: number }[] {
  const around = axisRad === 0 ? 1 : count;
  return unitRule(count).flatMap(({ point, weight }) => {
    const alpha = 2 * Math.asin(Math.sqrt(point) * Math.sin(halfAngleRad / 2));
    return Array.from({ length: around }, (_, k) => {
      const azimuth = (Math.PI * (k + 0.5)) / around;
      const cosine =
        Math.cos(axisRad) * Math.cos(alpha) + Math.sin(axisRad) * Math.sin(alpha) * Math.cos(azimuth);
      return {
        incidenceRad: axisRad === 0 ? alpha : Math.acos(Math.min(1, cosine)),
        weight: weight / around,
      };
    });
  });
}

interface Sample {
  readonly weight: number;
  readonly light: () => Light;
}

function refine(first: number, samples: (points: number) => Sample[]): Averaged {
  let before = weightedSum(samples(first));
  for (let points = 2 * first; ; points *= 2) {
    const light = weightedSum(samples(points));
    const lastChange = difference(before, light);
    if (lastChange < AVERAGE_TOLERANCE || 2 * points > MOST_POINTS) return { light, lastChange };
    before = light;
  }
}

function weightedSum(samples: readonly Sample[]): Light {
  let sum: Light | undefined;
  for (const { weight, light } of samples) {
    const one = light();
    if (sum === undefined) {
      const zero = (array: Float64Array) => new Float64Array(array.length);
      sum = {
        R: zero(one.R),
        T: zero(one.T),
        ...(one.derivative && { derivative: { R: zero(one.derivative.R), T: zero(one.derivative.T) } }),
      };
    }
    add(sum.R, one.R, weight);
    add(sum.T, one.T, weight);
    if (sum.derivative === undefined) continue;
    add(sum.derivative.R, one.derivative!.R, weight);
    add(sum.derivative.T, one.derivative!.T, weight);
  }
  return sum!;
}

function add(into: Float64Array, other: Float64Array, weight: number): void {
  for (let i = 0; i < into.length; i++) into[i]! += weight * other[i]!;
}

function difference(first: Light, second: Light): number {
  const between = (a: Float64Array, b: Float64Array) =>
    a.reduce((most, value, i) => Math.max(most, Math.abs(value - b[i]!)), 0);
  const most = Math.max(between(first.R, second.R), between(first.T, second.T));
  if (first.derivative === undefined) return most;
  return Math.max(
    most,
    between(first.derivative.R, second.derivative!.R),
    between(first.derivative.T, second.derivative!.T),
  );
}
