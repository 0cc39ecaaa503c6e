import type { Polarization } from './stack-on-grid.ts';

/** Complex numbers of one medium at one wavelength and angle, as separate parts. */
export interface TiltedMedium {
  /** N cos θ, the root whose wave decays: real part >= 0, imaginary part <= 0. */
  normalRe: number;
  normalIm: number;
  /** Tilted admittance η in units of the free-space one: N cos θ for s, N / cos θ for p. */
  admittanceRe: number;
  admittanceIm: number;
}

/**
 * Below this |N cos θ| a layer is computed as if it were this large. A layer's matrix depends on the square
 * of N cos θ alone, so the relative change is 1e-20 and the pole of 1/η at the critical angle never appears.
 */
export const LEAST_LAYER_NORMAL = 1e-10;
/** The same for a substrate, whose admittance enters directly. */
export const LEAST_SUBSTRATE_NORMAL = 1e-100;

/**
 * Fills `into` for the index N = n − ik under the angle whose sine and cosine in the incident medium
 * (index `incidentN`, real) are given.
 *
 * (N cos θ)² = N² − n0² sin² θ0 is computed as (N² − n0²) + (n0 cos θ0)², which stays accurate at grazing
 * incidence and where N is close to n0. Macleod's and Abelès' admittances: Born & Wolf, sec. 1.6.2-1.6.3.
 */
export function tiltMedium(
  into: TiltedMedium,
  n: number,
  k: number,
  incidentN: number,
  sine: number,
  cosine: number,
  polarization: Polarization,
  leastNormal: number,
): void {
  let re = n;
  let im = k;
  if (sine !== 0) {
    const along = incidentN * cosine;
    const squareRe = (n - incidentN) * (n + incidentN) - k * k + along * along;
    const halfSquareIm = n * k;
    const size = k === 0 ? Math.abs(squareRe) : Math.hypot(squareRe, 2 * halfSquareIm);
    const larger = Math.sqrt((size + Math.abs(squareRe)) / 2);
    const smaller = larger === 0 ? 0 : halfSquareIm / larger;
    re = squareRe >= 0 ? larger : smaller;
    im = squareRe >= 0 ? smaller : larger;
  }
  if (re * re + im * im < leastNormal * leastNormal) {
    re = leastNormal;
    im = 0;
  }
  into.normalRe = re;
  into.normalIm = -im;
  if (polarization === 's' || sine === 0) {
    into.admittanceRe = re;
    into.admittanceIm = -im;
    return;
  }
  const size = re * re + im * im;
  const indexSquareRe = (n - k) * (n + k);
  const indexSquareIm = -2 * n * k;
  into.admittanceRe = (indexSquareRe * re - indexSquareIm * im) / size;
  into.admittanceIm = (indexSquareRe * im + indexSquareIm * re) / size;
}
