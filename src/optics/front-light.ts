import type { SpectrumSolver } from './spectrum-solver.ts';

/** Fractions of the incident intensity, [wavelength], and where asked for their derivatives. */
export interface Light {
  readonly R: Float64Array;
  readonly T: Float64Array;
  /**
   * [wavelength * columns + column]. A column is a layer of the front surface, per nm, or, in `lightAlong`, a direction in
   * which indices change.
   */
  readonly derivative?: { readonly R: Float64Array; readonly T: Float64Array };
}

/** R and T of one surface in arrays of their own. */
export function frontLight(solver: SpectrumSolver, thicknessNm: Float64Array, derivative: boolean): Light {
  const count = solver.wavelengthCount;
  const R = new Float64Array(count);
  const T = new Float64Array(count);
  if (!derivative) {
    solver.spectrum(thicknessNm, R, T);
    return { R, T };
  }
  const size = count * solver.layerCount;
  const slope = { R: new Float64Array(size), T: new Float64Array(size) };
  solver.withDerivatives(thicknessNm, R, T, slope.R, slope.T);
  return { R, T, derivative: slope };
}
