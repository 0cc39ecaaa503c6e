import { InputError } from '../base/errors.ts';
import { CIRCULAR, HYPERBOLIC, MOST_OCTAVES, OCTAVE_HALVES, ROUNDER } from './circular-rational.ts';
import { FRONT_STRIDE } from './front-field.ts';
import { layerTables } from './layer-tables.ts';
import { SpectrumSolver } from './spectrum-solver.ts';
import type { Polarization, StackOnGrid } from './stack-on-grid.ts';

/**
 * Reflectance and transmittance of one surface at one wavelength while its outermost layer grows: what an
 * optical monitor sees, step by step. Everything below the growing layer is boiled down to its field vector
 * once; a step then costs one layer, some 20 to 30 ns, and allocates nothing.
 */
export class GrowingLayer {
  /** R and T at the thickness last asked for; T is what enters the substrate. */
  reflectance = 0;
  transmittance = 0;
  /**
   * Of the growing layer half turns and octaves per nm; of what lies below it B and, in the layer's own units (see
   * layer-tables.ts), F, real and imaginary part each; Y0 / η; last T times |Y0 B / η + F|² before it grows.
   */
  readonly #start = new Float64Array(9);

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
    const front = new Float64Array(FRONT_STRIDE);
    new SpectrumSolver(below, incidenceRad, polarization).frontField(belowNm, front);
    const { media, incidentAdmittance, substrateAdmittance } = layerTables(
      { ...stack, layers: [growing] },
      incidenceRad,
      polarization,
    );
    const [halfTurns, octaves, , , perRe, perIm] = media as unknown as readonly number[];
    const [bRe, bIm, cRe, cIm, scale] = front as unknown as readonly number[];
    const y0 = incidentAdmittance[0]!;
    const passed = 4 * y0 * substrateAdmittance[0]! * (perRe! ** 2 + perIm! ** 2) * scale! ** 2;
    this.#start.set([halfTurns!, octaves!, bRe!, bIm!]);
    this.#start.set([perRe! * cRe! - perIm! * cIm!, perRe! * cIm! + perIm! * cRe!], 4);
    this.#start.set([y0 * perRe!, y0 * perIm!, passed], 6);
  }

  /**
   * Sets `reflectance` and `transmittance` for a thickness of the growing layer in nm, from 0. Not checked:
   * this is the innermost loop of every virtual run. The way is that of absorbing-kernel.ts.
   */
  grow(thicknessNm: number): void {
    const start = this.#start;
    const circular = CIRCULAR;
    const rounder = ROUNDER[0]!;
    const halfTurns = start[0]! * thicknessNm;
    const f = halfTurns - (halfTurns + rounder - rounder);
    const zf = f * f;
    const zzf = zf * zf;
    const p = f * (circular[0]! + zf * circular[1]! + zzf * (circular[2]! + zf * circular[3]!));
    const q = 1 + zf * circular[4]! + zzf * (circular[5]! + zf * circular[6]!);
    const pp = p * p;
    const qq = q * q;
    const sine = 2 * p * q;
    const cosine = qq - pp;
    const turned = qq + pp;
    let gRe = start[2]!;
    let gIm = start[3]!;
    let hRe = start[4]!;
    let hIm = start[5]!;
    let decayed = 1;
    const octaves = start[1]! * thicknessNm;
    if (octaves !== 0) {
      const hyperbolic = HYPERBOLIC;
      const whole = octaves + rounder - rounder;
      const g = octaves - whole;
      const zg = g * g;
      const u = g * (hyperbolic[0]! + zg * (hyperbolic[1]! + zg * hyperbolic[2]!));
      const v = 1 + zg * (hyperbolic[3]! + zg * hyperbolic[4]!);
      let even = v;
      let odd = u;
      decayed = (v + u) * (v - u);
      if (whole !== 0) {
        const half = 2 * Math.min(whole, MOST_OCTAVES);
        const evenHalf = OCTAVE_HALVES[half]!;
        const oddHalf = OCTAVE_HALVES[half + 1]!;
        even = v * evenHalf + u * oddHalf;
        odd = v * oddHalf + u * evenHalf;
        // (v + u)² exp(−2b), with 2^−whole as the exact difference of the halves while that is exact.
        decayed *= whole < 50 ? evenHalf - oddHalf : 2 ** -whole;
      }
      const belowRe = gRe;
      const belowIm = gIm;
      gRe = even * belowRe + odd * hRe;
      gIm = even * belowIm + odd * hIm;
      hRe = odd * belowRe + even * hRe;
      hIm = odd * belowIm + even * hIm;
    }
    const bRe = cosine * gRe - sine * hIm;
    const bIm = cosine * gIm + sine * hRe;
    const fieldRe = cosine * hRe - sine * gIm;
    const fieldIm = cosine * hIm + sine * gRe;
    const frontRe = start[6]! * bRe - start[7]! * bIm;
    const frontIm = start[6]! * bIm + start[7]! * bRe;
    const backRe = frontRe - fieldRe;
    const backIm = frontIm - fieldIm;
    const forthRe = frontRe + fieldRe;
    const forthIm = frontIm + fieldIm;
    const perForth = 1 / (forthRe * forthRe + forthIm * forthIm);
    this.reflectance = (backRe * backRe + backIm * backIm) * perForth;
    this.transmittance = start[8]! * perForth * turned * turned * decayed;
  }
}
