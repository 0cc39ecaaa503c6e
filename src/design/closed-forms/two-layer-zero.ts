import { requireWithin } from '../../base/errors.ts';
import { INDEX_LIMITS } from './quarter-wave.ts';

/** Two layers between two media; indices are real, `inner` lies on the substrate. */
export interface TwoLayerIndices {
  readonly incident: number;
  readonly outer: number;
  readonly inner: number;
  readonly substrate: number;
}

/** Thicknesses in nm of a pair of layers. */
export interface LayerPair {
  readonly innerNm: number;
  readonly outerNm: number;
}

/**
 * All pairs of thicknesses, each phase below a half wave, at which two layers reflect nothing at `wavelengthNm`
 * and normal incidence: none, one (both layers quarter waves) or two. With t = tan(phase),
 *
 *   t1 t2 = n1 n2 (ns - n0) / (n1² ns - n0 n2²),   t2 / t1 = n2 (n0 ns - n1²) / (n1 (n2² - n0 ns)),
 *
 * the real and the imaginary part of C = n0 B for the product of the two characteristic matrices
 * (L. A. Catalan, J. Opt. Soc. Am. 52, 437, 1962; H. A. Macleod, Thin-Film Optical Filters, sec. 3.2;
 * both from memory, and derived again here). Any layer may be thickened by whole half waves.
 */
export function twoLayerZeros(indices: TwoLayerIndices, wavelengthNm: number): LayerPair[] {
  for (const [name, n] of Object.entries(indices)) requireWithin(name, n, '', INDEX_LIMITS);
  requireWithin('wavelengthNm', wavelengthNm, 'nm', { above: 0 });
  const { incident: n0, outer: n1, inner: n2, substrate: ns } = indices;
  const outerExcess = n0 * ns - n1 * n1;
  const innerExcess = n2 * n2 - n0 * ns;
  const balance = n1 * n1 * ns - n0 * n2 * n2;
  const asPair = (outerPhase: number, innerPhase: number): LayerPair => ({
    innerNm: (innerPhase * wavelengthNm) / (2 * Math.PI * n2),
    outerNm: (outerPhase * wavelengthNm) / (2 * Math.PI * n1),
  });
  // Where n1² ns = n0 n2² two quarter waves do it, and (but for equal media) nothing else.
  if (Math.abs(balance) <= 1e-12 * n0 * n2 * n2) return [asPair(Math.PI / 2, Math.PI / 2)];
  const outerSquared = ((ns - n0) * innerExcess * n1 * n1) / (balance * outerExcess);
  const innerSquared = ((ns - n0) * outerExcess * n2 * n2) / (balance * innerExcess);
  if (!(outerSquared > 0) || !(innerSquared > 0)) return [];
  if (!Number.isFinite(outerSquared) || !Number.isFinite(innerSquared)) return [];
  const outer = Math.atan(Math.sqrt(outerSquared));
  const inner = Math.atan(Math.sqrt(innerSquared));
  const sameSign = (ns - n0) / balance > 0;
  return sameSign
    ? [asPair(outer, inner), asPair(Math.PI - outer, Math.PI - inner)]
    : [asPair(outer, Math.PI - inner), asPair(Math.PI - outer, inner)];
}
