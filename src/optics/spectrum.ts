import { type Polarization, SpectrumSolver } from './spectrum-solver.ts';
import type { StackOnGrid } from './stack-on-grid.ts';

/** Fractions of the incident light, one value a wavelength. */
export interface Spectrum {
  readonly R: Float64Array;
  readonly T: Float64Array;
  readonly A: Float64Array;
}

export interface SpectrumOptions {
  /** Angles in the incident medium, 0 to below π/2. */
  readonly incidenceRad: readonly number[];
}

/** The spectra at one angle: both polarizations and their mean, which is that of unpolarized light. */
export interface AngleSpectrum {
  readonly s: Spectrum;
  readonly p: Spectrum;
  readonly mean: Spectrum;
}

/** R, T and A of one coated surface at every angle asked for; thicknesses in nm, in the order of deposition. */
export function computeSpectrum(
  stack: StackOnGrid,
  thicknessNm: Float64Array,
  { incidenceRad }: SpectrumOptions,
): AngleSpectrum[] {
  return incidenceRad.map((angle) => {
    const s = polarized(stack, thicknessNm, angle, 's');
    const p = polarized(stack, thicknessNm, angle, 'p');
    const half = (first: Float64Array, second: Float64Array) =>
      first.map((value, at) => (value + second[at]!) / 2);
    return { s, p, mean: { R: half(s.R, p.R), T: half(s.T, p.T), A: half(s.A, p.A) } };
  });
}

function polarized(
  stack: StackOnGrid,
  thicknessNm: Float64Array,
  incidenceRad: number,
  polarization: Polarization,
): Spectrum {
  const R = new Float64Array(stack.wavelengthNm.length);
  const T = new Float64Array(stack.wavelengthNm.length);
  new SpectrumSolver(stack, incidenceRad, polarization).spectrum(thicknessNm, R, T);
  return { R, T, A: R.map((reflected, at) => 1 - reflected - T[at]!) };
}
