import { quarterWaveNm } from './quarter-wave.ts';

/** Real indices of three layers; `inner` lies on the substrate. */
export interface ThreeLayerIndices {
  readonly inner: number;
  readonly middle: number;
  readonly outer: number;
}

/**
 * Quarter-half-quarter (J. T. Cox, G. Hass & A. Thelen, J. Opt. Soc. Am. 52, 965, 1962): thicknesses in nm in the
 * order of deposition. At `wavelengthNm` the half wave is absent and two quarter waves remain, which
 * reflect nothing where inner² n0 = outer² ns; beside it the half wave flattens the curve.
 */
export function quarterHalfQuarter(indices: ThreeLayerIndices, wavelengthNm: number): number[] {
  return [
    quarterWaveNm(indices.inner, wavelengthNm),
    quarterWaveNm(indices.middle, wavelengthNm, 2),
    quarterWaveNm(indices.outer, wavelengthNm),
  ];
}

/** The inner index at which quarter-half-quarter reflects nothing: outer · sqrt(ns / n0) (Cox, Hass & Thelen 1962). */
export function innerIndexWanted(outer: number, incident: number, substrate: number): number {
  return outer * Math.sqrt(substrate / incident);
}
