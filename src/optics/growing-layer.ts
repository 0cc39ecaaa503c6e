import { InputError } from '../base/errors.ts';
import { CIRCULAR, HYPERBOLIC, MOST_OCTAVES, OCTAVE_HALVES, ROUNDER } from './circular-rational.ts';
import { FRONT_STRIDE } from './front-field.ts';
import { ABSORBING_STRIDE, layerTables } from './layer-tables.ts';
import { SpectrumSolver } from './spectrum-solver.ts';
import type { Polarization, StackOnGrid } from './stack-on-grid.ts';

/**
 * Reflectance and transmittance of one surface at one wavelength while its outermost layer grows: what an
 * optical monitor sees, step by step. Everything below the growing layer is boiled down to its field vector
 * once; a step then costs one layer, some 20 ns, and allocates nothing.
 */
export class GrowingLayer {
  /** R and T at the thickness last asked for; T is what enters the substrate. */
  reflectance = 0;
  transmittance = 0;
  readonly #below = new Float64Array(FRONT_STRIDE);
  readonly #medium = new Float64Array(ABSORBING_STRIDE);
  readonly #frontRe: number;
  readonly #substrateRe: number;

  /**
   * @param stack one wavelength; the last layer is the one that grows, all others have their thickness.
   * @param belowNm thicknesses (nm, from 0) of the layers below it, one fewer than the stack has.
   * @throws InputError where the stack, the angle or a thickness is not legal.
   */
  constructor(stack: StackOnGrid, belowNm: Float64Array, incidenceRad = 0, polarization: Polarization = 's') {
    if (stack.wavelengthNm.length !== 1)
      throw new InputError(
        'wavelengthNm',
        `${stack.wavelengthNm.length} wavelengths are given where 1 is needed`,
      );
    const growing = stack.layers.at(-1);
    if (growing === undefined) throw new InputError('layers', 'no layer is given that could grow');
    if (growing.profile !== undefined)
      throw new InputError(
        `layers[${stack.layers.length - 1}].profile`,
        'a layer that is graded has no profile while it grows',
      );
    const below = { ...stack, layers: stack.layers.slice(0, -1) };
    new SpectrumSolver(below, incidenceRad, polarization).frontField(belowNm, this.#below);
    const { absorbing, lossless, incidentAdmittance, substrateAdmittance } = layerTables(
      { ...stack, layers: [growing] },
      incidenceRad,
      polarization,
    );
    if (absorbing.length > 0) this.#medium.set(absorbing);
    else this.#medium.set([lossless[0]!, 0, lossless[1]!, 0, lossless[2]!, 0]);
    this.#frontRe = incidentAdmittance[0]!;
    this.#substrateRe = substrateAdmittance[0]!;
  }

  /**
   * Sets `reflectance` and `transmittance` for a thickness of the growing layer in nm, from 0. Not checked:
   * this is the innermost loop of every virtual run. The way is that of absorbing-kernel.ts.
   */
  grow(thicknessNm: number): void {
    const [below, medium] = [this.#below, this.#medium];
    const halfTurns = medium[0]! * thicknessNm;
    const f = halfTurns - (halfTurns + ROUNDER[0]! - ROUNDER[0]!);
    const zf = f * f;
    const zzf = zf * zf;
    const p = f * (CIRCULAR[0]! + zf * CIRCULAR[1]! + zzf * (CIRCULAR[2]! + zf * CIRCULAR[3]!));
    const q = 1 + zf * CIRCULAR[4]! + zzf * (CIRCULAR[5]! + zf * CIRCULAR[6]!);
    const sine = 2 * p * q;
    const cosine = q * q - p * p;
    const turned = q * q + p * p;
    let even = 1;
    let odd = 0;
    let decayed = 1;
    const octaves = medium[1]! * thicknessNm;
    if (octaves !== 0) {
      const whole = octaves + ROUNDER[0]! - ROUNDER[0]!;
      const g = octaves - whole;
      const zg = g * g;
      const u = g * (HYPERBOLIC[0]! + zg * (HYPERBOLIC[1]! + zg * HYPERBOLIC[2]!));
      const v = 1 + zg * (HYPERBOLIC[3]! + zg * HYPERBOLIC[4]!);
      const half = 2 * Math.min(whole, MOST_OCTAVES);
      const evenHalf = OCTAVE_HALVES[half]!;
      const oddHalf = OCTAVE_HALVES[half + 1]!;
      even = v * evenHalf + u * oddHalf;
      odd = v * oddHalf + u * evenHalf;
      // (v + u)² exp(−2b), with 2^−whole as the exact difference of the halves while that is exact.
      decayed = (v + u) * (v - u) * (whole < 50 ? evenHalf - oddHalf : 2 ** -whole);
    }
    const bRe = below[0]!;
    const bIm = below[1]!;
    const flowRe = medium[4]! * below[2]! - medium[5]! * below[3]!;
    const flowIm = medium[4]! * below[3]! + medium[5]! * below[2]!;
    const gRe = even * bRe + odd * flowRe;
    const gIm = even * bIm + odd * flowIm;
    const hRe = odd * bRe + even * flowRe;
    const hIm = odd * bIm + even * flowIm;
    const frontRe = this.#frontRe * (cosine * gRe - sine * hIm);
    const frontIm = this.#frontRe * (cosine * gIm + sine * hRe);
    const upRe = cosine * hRe - sine * gIm;
    const upIm = cosine * hIm + sine * gRe;
    const cRe = medium[2]! * upRe - medium[3]! * upIm;
    const cIm = medium[2]! * upIm + medium[3]! * upRe;
    const backRe = frontRe - cRe;
    const backIm = frontIm - cIm;
    const forthRe = frontRe + cRe;
    const forthIm = frontIm + cIm;
    const perForth = 1 / (forthRe * forthRe + forthIm * forthIm);
    const scale = turned * below[4]!;
    this.reflectance = (backRe * backRe + backIm * backIm) * perForth;
    this.transmittance = 4 * this.#frontRe * this.#substrateRe * perForth * scale * scale * decayed;
  }
}
