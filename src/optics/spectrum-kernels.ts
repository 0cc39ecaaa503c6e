/**
 * Reflectance and transmittance of one stack at one angle and polarization, and their derivatives, as `SpectrumSolver`
 * describes them; arrays are not checked.
 */
export interface SpectrumKernels {
  spectrum(thicknessNm: Float64Array, reflectance: Float64Array, transmittance: Float64Array): void;
  withDerivatives(
    thicknessNm: Float64Array,
    reflectance: Float64Array,
    transmittance: Float64Array,
    reflectanceDerivative: Float64Array,
    transmittanceDerivative: Float64Array,
    amplitudeDerivative?: Float64Array,
  ): void;
}
