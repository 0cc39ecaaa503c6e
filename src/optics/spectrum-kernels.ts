import type { LayerTables } from './layer-tables.ts';

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

/** Makes kernels over a stack's tables; undefined where it has none for them. */
export type KernelMaker = (tables: LayerTables) => SpectrumKernels | undefined;

let offered: KernelMaker | undefined;

/** From now on solvers ask this maker before they take the plain kernels, which must give the same numbers. */
export function offerKernels(maker: KernelMaker): void {
  offered = maker;
}

/** What the maker that was offered last has for these tables. */
export function offeredKernels(tables: LayerTables): SpectrumKernels | undefined {
  return offered?.(tables);
}
