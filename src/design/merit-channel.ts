import { RAD_PER_DEG } from '../base/constants.ts';
import { SpectrumSolver } from '../optics/spectrum-solver.ts';
import { polarizationsOf } from './light-channel.ts';
import type { MeritChannel } from './merit-grid.ts';

/** R and T of one stack on one channel, with derivatives, averaged over the channel's polarizations, in place. */
export class ChannelSpectrum {
  readonly reflectance: Float64Array;
  readonly transmittance: Float64Array;
  /** [wavelength * layers + layer], per nm. */
  readonly reflectanceDerivative: Float64Array;
  readonly transmittanceDerivative: Float64Array;
  /**
   * Derivatives of the reflection coefficient, one array a polarization: [2 * (wavelength * layers + layer)], real and
   * imaginary part, per nm.
   */
  readonly amplitudeDerivatives: readonly Float64Array[];
  readonly #solvers: readonly SpectrumSolver[];
  readonly #spare: readonly [Float64Array, Float64Array, Float64Array, Float64Array] | undefined;

  /** @param materials for each layer its place in the channel's palette. */
  constructor(channel: MeritChannel, materials: readonly number[]) {
    const { wavelengthNm, incident, substrate, palette, incidenceDeg } = channel;
    const stack = { wavelengthNm, incident, layers: materials.map((place) => palette[place]!), substrate };
    const polarizations = polarizationsOf(channel.polarization, incidenceDeg);
    this.#solvers = polarizations.map((one) => new SpectrumSolver(stack, incidenceDeg * RAD_PER_DEG, one));
    const size = wavelengthNm.length;
    const buffers = () =>
      [1, 1, materials.length, materials.length].map((width) => new Float64Array(size * width)) as [
        Float64Array,
        Float64Array,
        Float64Array,
        Float64Array,
      ];
    [this.reflectance, this.transmittance, this.reflectanceDerivative, this.transmittanceDerivative] =
      buffers();
    this.amplitudeDerivatives = polarizations.map(() => new Float64Array(2 * size * materials.length));
    this.#spare = polarizations.length > 1 ? buffers() : undefined;
  }

  /** Fills reflectance and transmittance. */
  update(thicknessNm: Float64Array): void {
    this.#solvers[0]!.spectrum(thicknessNm, this.reflectance, this.transmittance);
    if (this.#spare === undefined) return;
    const [r, t] = this.#spare;
    this.#solvers[1]!.spectrum(thicknessNm, r, t);
    average(this.reflectance, r);
    average(this.transmittance, t);
  }

  /** Fills reflectance, transmittance and all derivatives. */
  updateWithDerivatives(thicknessNm: Float64Array): void {
    this.#solvers[0]!.withDerivatives(
      thicknessNm,
      this.reflectance,
      this.transmittance,
      this.reflectanceDerivative,
      this.transmittanceDerivative,
      this.amplitudeDerivatives[0],
    );
    if (this.#spare === undefined) return;
    const [r, t, dr, dt] = this.#spare;
    this.#solvers[1]!.withDerivatives(thicknessNm, r, t, dr, dt, this.amplitudeDerivatives[1]);
    average(this.reflectance, r);
    average(this.transmittance, t);
    average(this.reflectanceDerivative, dr);
    average(this.transmittanceDerivative, dt);
  }
}

function average(into: Float64Array, other: Float64Array): void {
  for (let i = 0; i < into.length; i++) into[i] = (into[i]! + other[i]!) / 2;
}
