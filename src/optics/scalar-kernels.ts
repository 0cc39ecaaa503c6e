import { ABSORBING_SCRATCH, spectrumWithDerivativesAbsorbing } from './absorbing-jacobian.ts';
import { propagateAbsorbing } from './absorbing-kernel.ts';
import { FRONT_STRIDE, reflectFront } from './front-field.ts';
import type { LayerTables } from './layer-tables.ts';
import { LOSSLESS_SCRATCH, spectrumWithDerivativesLossless } from './lossless-jacobian.ts';
import { propagateLossless } from './lossless-kernel.ts';
import { losslessTable } from './lossless-table.ts';
import type { SpectrumKernels } from './spectrum-kernels.ts';

/** The kernels in plain TypeScript, over the tables of one stack. */
export class ScalarKernels implements SpectrumKernels {
  /** The field at the front, [wavelength * FRONT_STRIDE], as `propagate` left it. */
  readonly front: Float64Array;
  readonly #tables: LayerTables;
  readonly #lossless: ReturnType<typeof losslessTable>;
  readonly #scratch: Float64Array;

  constructor(tables: LayerTables) {
    this.#tables = tables;
    this.#lossless = losslessTable(tables);
    this.front = new Float64Array(tables.wavelengthCount * FRONT_STRIDE);
    this.#scratch = new Float64Array(tables.layerCount * Math.max(ABSORBING_SCRATCH, LOSSLESS_SCRATCH));
  }

  /** Fills `front`. */
  propagate(thicknessNm: Float64Array): void {
    for (const run of this.#tables.runs)
      if (run.lossless) propagateLossless(this.#tables, this.#lossless.turns, run, thicknessNm, this.front);
      else propagateAbsorbing(this.#tables, run, thicknessNm, this.front);
  }

  spectrum(thicknessNm: Float64Array, reflectance: Float64Array, transmittance: Float64Array): void {
    this.propagate(thicknessNm);
    reflectFront(this.#tables, this.front, reflectance, transmittance);
  }

  withDerivatives(
    thicknessNm: Float64Array,
    reflectance: Float64Array,
    transmittance: Float64Array,
    reflectanceDerivative: Float64Array,
    transmittanceDerivative: Float64Array,
    amplitudeDerivative?: Float64Array,
  ): void {
    const outputs = [
      reflectance,
      transmittance,
      reflectanceDerivative,
      transmittanceDerivative,
      amplitudeDerivative,
    ] as const;
    const tables = this.#tables;
    const scratch = this.#scratch;
    for (const run of tables.runs)
      if (run.lossless)
        spectrumWithDerivativesLossless(tables, this.#lossless, run, thicknessNm, scratch, ...outputs);
      else spectrumWithDerivativesAbsorbing(tables, run, thicknessNm, scratch, ...outputs);
  }
}
