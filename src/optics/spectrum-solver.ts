import { InputError } from '../base/errors.ts';
import { FRONT_STRIDE, reflectAmplitude } from './front-field.ts';
import { foldDerivatives, type GradedStack, layOutGraded, spreadThickness } from './graded-stack.ts';
import { type LayerTables, layerTables } from './layer-tables.ts';
import type { Medium } from './medium.ts';
import { ScalarKernels } from './scalar-kernels.ts';
import { offeredKernels, type SpectrumKernels } from './spectrum-kernels.ts';
import { type Polarization, requireThicknesses, type StackOnGrid } from './stack-on-grid.ts';

/**
 * Spectra of one stack at one angle and polarization, for thicknesses that change often.
 *
 * The constructor tabulates and allocates; the methods only fill arrays of the caller. `thicknessNm` has one
 * value (nm, from 0) for each layer in the order of deposition. Spectra have one value for each wavelength,
 * as fractions. Derivatives are per nm at [wavelength * layerCount + layer]. Outputs must not share memory.
 * Values of a layer's `Medium` are read once, in the constructor.
 */
export class SpectrumSolver {
  readonly wavelengthCount: number;
  readonly layerCount: number;
  readonly #tables: LayerTables;
  #madeScalar: ScalarKernels | undefined;
  #madeKernels: SpectrumKernels | undefined;
  /** Only where a layer is graded; the tables then are those of the sublayers. */
  readonly #graded: GradedStack | undefined;
  readonly #sublayerNm: Float64Array;
  #bySublayer: readonly [Float64Array, Float64Array, Float64Array] | undefined;

  /**
   * @param incidenceRad angle in the incident medium, from 0 to below π/2.
   * @param angleIn where light arrives from within a plate: the medium outside, in which the angle is
   * measured. Then the incident medium may absorb, and R is the square of the reflection coefficient.
   * @throws InputError where the stack or the angle is not legal.
   */
  constructor(stack: StackOnGrid, incidenceRad: number, polarization: Polarization, angleIn?: Medium) {
    this.#graded = layOutGraded(stack, angleIn);
    this.#tables = layerTables(this.#graded?.stack ?? stack, incidenceRad, polarization, angleIn);
    this.wavelengthCount = this.#tables.wavelengthCount;
    this.layerCount = stack.layers.length;
    this.#sublayerNm = new Float64Array(this.#graded === undefined ? 0 : this.#tables.layerCount);
  }

  /** Fills reflectance and transmittance (into the substrate). @throws InputError for wrong arrays. */
  spectrum(thicknessNm: Float64Array, reflectance: Float64Array, transmittance: Float64Array): void {
    this.#requireSpectra(reflectance, transmittance);
    this.#kernels.spectrum(this.#thicknesses(thicknessNm), reflectance, transmittance);
  }

  /**
   * Fills the reflection coefficient of the tangential electric field, real and imaginary part; its angle is
   * the reflected phase (time factor exp(+iωt)).
   */
  reflectionCoefficient(thicknessNm: Float64Array, re: Float64Array, im: Float64Array): void {
    this.#requireSpectra(re, im);
    this.#scalar.propagate(this.#thicknesses(thicknessNm));
    reflectAmplitude(this.#tables, this.#scalar.front, re, im);
  }

  /** Fills the field at the front, [wavelength * FRONT_STRIDE], as front-field.ts lays it out. */
  frontField(thicknessNm: Float64Array, front: Float64Array): void {
    requireLength('front', front, this.wavelengthCount * FRONT_STRIDE);
    this.#scalar.propagate(this.#thicknesses(thicknessNm));
    front.set(this.#scalar.front);
  }

  /**
   * Fills reflectance, transmittance and the derivatives of both with respect to every thickness, and where wanted
   * those of the reflection coefficient of the tangential electric field: [2 * (wavelength * layerCount + layer)],
   * real and imaginary part.
   */
  withDerivatives(
    thicknessNm: Float64Array,
    reflectance: Float64Array,
    transmittance: Float64Array,
    reflectanceDerivative: Float64Array,
    transmittanceDerivative: Float64Array,
    amplitudeDerivative?: Float64Array,
  ): void {
    this.#requireSpectra(reflectance, transmittance);
    const size = this.wavelengthCount * this.layerCount;
    requireLength('reflectanceDerivative', reflectanceDerivative, size);
    requireLength('transmittanceDerivative', transmittanceDerivative, size);
    if (amplitudeDerivative !== undefined)
      requireLength('amplitudeDerivative', amplitudeDerivative, 2 * size);
    const graded = this.#graded;
    const [byR, byT, byAmplitude] =
      graded === undefined
        ? [reflectanceDerivative, transmittanceDerivative, amplitudeDerivative]
        : this.#sublayerSlopes();
    const nm = this.#thicknesses(thicknessNm);
    this.#kernels.withDerivatives(nm, reflectance, transmittance, byR, byT, byAmplitude);
    if (graded === undefined) return;
    foldDerivatives(graded, byR, reflectanceDerivative);
    foldDerivatives(graded, byT, transmittanceDerivative);
    if (amplitudeDerivative !== undefined)
      foldDerivatives(graded, byAmplitude!, amplitudeDerivative, false, 2);
  }

  get #kernels(): SpectrumKernels {
    this.#madeKernels ??= offeredKernels(this.#tables) ?? this.#scalar;
    return this.#madeKernels;
  }

  get #scalar(): ScalarKernels {
    this.#madeScalar ??= new ScalarKernels(this.#tables);
    return this.#madeScalar;
  }

  /** The thicknesses as the tables take them. */
  #thicknesses(thicknessNm: Float64Array): Float64Array {
    requireThicknesses(thicknessNm, this.layerCount);
    if (this.#graded === undefined) return thicknessNm;
    spreadThickness(this.#graded, thicknessNm, this.#sublayerNm);
    return this.#sublayerNm;
  }

  /** Room for the derivatives of R, T and the amplitude by sublayers, made when first needed. */
  #sublayerSlopes(): readonly [Float64Array, Float64Array, Float64Array] {
    const size = this.wavelengthCount * this.#tables.layerCount;
    this.#bySublayer ??= [new Float64Array(size), new Float64Array(size), new Float64Array(2 * size)];
    return this.#bySublayer;
  }

  #requireSpectra(first: Float64Array, second: Float64Array): void {
    requireLength('reflectance', first, this.wavelengthCount);
    requireLength('transmittance', second, this.wavelengthCount);
  }
}

function requireLength(path: string, array: Float64Array, length: number): void {
  if (array.length !== length)
    throw new InputError(path, `the array has ${array.length} places where ${length} are needed`);
}
