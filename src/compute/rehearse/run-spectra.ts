import { RAD_PER_DEG } from '../../base/constants.ts';
import { computeSpectrum } from '../../optics/spectrum.ts';
import { SpectrumSolver } from '../../optics/spectrum-solver.ts';
import { type ResolvedStack, resolveStack, type StackRequest } from '../shapes.ts';

/**
 * R and T of one stack at one angle for many sets of thicknesses: the tables are made once where the
 * index is as recorded and no plate stands behind.
 */
export class RunSpectra {
  readonly wavelengthNm: Float64Array;
  readonly R: Float64Array;
  readonly T: Float64Array;
  readonly #resolved: ResolvedStack;
  readonly #incidenceRad: number;
  readonly #polarizations: readonly ('s' | 'p')[];
  readonly #solvers: readonly SpectrumSolver[];

  constructor(
    stack: StackRequest,
    wavelengthNm: Float64Array,
    incidenceDeg: number,
    polarization: 'mean' | 's' | 'p',
  ) {
    this.wavelengthNm = wavelengthNm;
    this.R = new Float64Array(wavelengthNm.length);
    this.T = new Float64Array(wavelengthNm.length);
    this.#resolved = resolveStack(stack, wavelengthNm);
    this.#incidenceRad = incidenceDeg * RAD_PER_DEG;
    const both = incidenceDeg === 0 ? (['s'] as const) : (['s', 'p'] as const);
    this.#polarizations = polarization === 'mean' ? both : [polarization];
    this.#solvers = this.#polarizations.map(
      (one) => new SpectrumSolver(this.#resolved.stack, this.#incidenceRad, one),
    );
  }

  get warnings(): readonly string[] {
    return this.#resolved.warnings;
  }

  /** Fills `R` and `T` for these thicknesses (nm) and, where given, these factors on each layer's index. */
  update(thicknessNm: Float64Array, indexFactor?: Float64Array): void {
    const { stack, plate } = this.#resolved;
    const varied =
      indexFactor === undefined
        ? stack
        : {
            ...stack,
            layers: stack.layers.map((medium, layer) => ({
              ...medium,
              n: medium.n.map((value) => value * indexFactor[layer]!),
              k: medium.k.map((value) => value * indexFactor[layer]!),
            })),
          };
    this.R.fill(0);
    this.T.fill(0);
    if (plate !== undefined) {
      const [angle] = computeSpectrum(varied, thicknessNm, { incidenceRad: [this.#incidenceRad], plate });
      for (const one of this.#polarizations) this.#add(angle![one].R, angle![one].T);
      return;
    }
    const r = new Float64Array(this.R.length);
    const t = new Float64Array(this.T.length);
    for (const [at, one] of this.#polarizations.entries()) {
      const solver =
        varied === stack ? this.#solvers[at]! : new SpectrumSolver(varied, this.#incidenceRad, one);
      solver.spectrum(thicknessNm, r, t);
      this.#add(r, t);
    }
  }

  #add(r: Float64Array, t: Float64Array): void {
    const share = 1 / this.#polarizations.length;
    for (let i = 0; i < r.length; i++) {
      this.R[i]! += share * r[i]!;
      this.T[i]! += share * t[i]!;
    }
  }
}
