import { CIRCULAR, HYPERBOLIC, halved, MOST_OCTAVES, OCTAVE_HALVES, ROUNDER } from './circular-rational.ts';
import { LAYERS_BETWEEN_RESCALES } from './front-field.ts';
import { BOUNDARY_STRIDE, GROWTH_PER_OCTAVE } from './layer-boundaries.ts';
import type { LayerTables, WavelengthRun } from './layer-tables.ts';

/** Numbers that `spectrumWithDerivativesAbsorbing` keeps for each layer. */
export const ABSORBING_SCRATCH = 9;

/**
 * R and T of layers that may absorb or be evanescent, and their derivatives with respect to every thickness.
 *
 * The way up is that of absorbing-kernel.ts. With V = (B; F) just above a layer, in its own units, a thickness d changes
 * V by W = iκ (F; B) dd. With P, the matrix of everything above, and D = Y0 B + C at the front,
 *   dr/dd = 2 Y0 det[P W, P V] / D² = 2 Y0 iκη (F² − B²) det P / D²   (det P = 1 but for the kernel's factors),
 *   dD/dd = ℓ W = iκ (ℓ1 F + ℓ2 B)  with the row  ℓ = (Y0, 1) P,  and  dT = −2 T Re(dD / D).
 * ℓ is carried downwards. A boundary multiplies ℓ2 by its ratio, a layer works on ℓ as it does on V, because its matrix
 * is symmetric; there all of the kernel's factors cancel. It starts as −2 T / D times itself, so that dT is its real part.
 * `scratch` holds ABSORBING_SCRATCH numbers a layer. `amplitudeDerivative`, where wanted, takes dr as
 * [2 * (wavelength * layerCount + layer)], real and imaginary part. Nothing is allocated.
 */
export function spectrumWithDerivativesAbsorbing(
  tables: LayerTables,
  run: WavelengthRun,
  thicknessNm: Float64Array,
  scratch: Float64Array,
  reflectance: Float64Array,
  transmittance: Float64Array,
  reflectanceDerivative: Float64Array,
  transmittanceDerivative: Float64Array,
  amplitudeDerivative?: Float64Array,
): void {
  const { boundaries, boundaryOf, boundaryCount, entry, layerCount } = tables;
  const { incidentAdmittance, substrateAdmittance } = tables;
  const halves = OCTAVE_HALVES;
  const p0 = CIRCULAR[0]!;
  const p1 = CIRCULAR[1]!;
  const p2 = CIRCULAR[2]!;
  const p3 = CIRCULAR[3]!;
  const q1 = CIRCULAR[4]!;
  const q2 = CIRCULAR[5]!;
  const q3 = CIRCULAR[6]!;
  const u0 = HYPERBOLIC[0]!;
  const u1 = HYPERBOLIC[1]!;
  const u2 = HYPERBOLIC[2]!;
  const v1 = HYPERBOLIC[3]!;
  const v2 = HYPERBOLIC[4]!;
  const rounder = ROUNDER[0]!;
  const stride = BOUNDARY_STRIDE;
  const growth = GROWTH_PER_OCTAVE;
  const turn = Math.PI;
  for (let w = run.from; w < run.to; w++) {
    const row = w * boundaryCount;
    const glassRe = substrateAdmittance[2 * w]!;
    const glassIm = substrateAdmittance[2 * w + 1]!;
    const entryRe = entry[2 * w]!;
    const entryIm = entry[2 * w + 1]!;
    let bRe = 1;
    let bIm = 0;
    let fieldRe = entryRe * glassRe - entryIm * glassIm;
    let fieldIm = entryRe * glassIm + entryIm * glassRe;
    let scale = 1;
    let decay = 0;
    for (let j = 0, s = 0; j < layerCount; j++, s += ABSORBING_SCRATCH) {
      const at = (row + boundaryOf[j]!) * stride;
      const thickness = thicknessNm[j]!;
      const halfTurns = boundaries[at]! * thickness;
      const f = halfTurns - (halfTurns + rounder - rounder);
      const zf = f * f;
      const zzf = zf * zf;
      const p = f * (p0 + zf * p1 + zzf * (p2 + zf * p3));
      const q = 1 + zf * q1 + zzf * (q2 + zf * q3);
      const pp = p * p;
      const qq = q * q;
      const sine = 2 * p * q;
      const cosine = qq - pp;

      const octaves = boundaries[at + 1]! * thickness;
      const whole = octaves + rounder - rounder;
      const g = octaves - whole;
      const zg = g * g;
      const u = g * (u0 + zg * (u1 + zg * u2));
      const v = 1 + zg * (v1 + zg * v2);
      let even = v;
      let odd = u;
      let shrunk = 1;
      if (whole !== 0) {
        const half = 2 * Math.min(whole, MOST_OCTAVES);
        const evenHalf = halves[half]!;
        const oddHalf = halves[half + 1]!;
        even = v * evenHalf + u * oddHalf;
        odd = v * oddHalf + u * evenHalf;
        shrunk = evenHalf - oddHalf;
      }

      const gRe = even * bRe + odd * fieldRe;
      const gIm = even * bIm + odd * fieldIm;
      const hRe = odd * bRe + even * fieldRe;
      const hIm = odd * bIm + even * fieldIm;
      bRe = cosine * gRe - sine * hIm;
      bIm = cosine * gIm + sine * hRe;
      let upRe = cosine * hRe - sine * gIm;
      let upIm = cosine * hIm + sine * gRe;
      const turned = qq + pp;
      scale *= turned * (v + u);
      decay += octaves;
      const ratioRe = boundaries[at + 2]!;
      const ratioIm = boundaries[at + 3]!;
      fieldRe = ratioRe * upRe - ratioIm * upIm;
      fieldIm = ratioRe * upIm + ratioIm * upRe;
      let passed = turned * turned * (v - u) * (v + u) * shrunk;
      if ((j + 1) % LAYERS_BETWEEN_RESCALES === 0) {
        const shrink = 1 / (Math.abs(bRe) + Math.abs(bIm) + Math.abs(fieldRe) + Math.abs(fieldIm));
        bRe *= shrink;
        bIm *= shrink;
        upRe *= shrink;
        upIm *= shrink;
        fieldRe *= shrink;
        fieldIm *= shrink;
        scale *= shrink;
        even *= shrink;
        odd *= shrink;
        passed *= shrink * shrink;
      }
      scratch[s] = bRe;
      scratch[s + 1] = bIm;
      scratch[s + 2] = upRe;
      scratch[s + 3] = upIm;
      scratch[s + 4] = even;
      scratch[s + 5] = odd;
      scratch[s + 6] = cosine;
      scratch[s + 7] = sine;
      scratch[s + 8] = passed;
    }

    const y0Re = incidentAdmittance[2 * w]!;
    const y0Im = incidentAdmittance[2 * w + 1]!;
    const frontRe = y0Re * bRe - y0Im * bIm;
    const frontIm = y0Re * bIm + y0Im * bRe;
    const backRe = frontRe - fieldRe;
    const backIm = frontIm - fieldIm;
    const forthRe = frontRe + fieldRe;
    const forthIm = frontIm + fieldIm;
    const perForth = 1 / (forthRe * forthRe + forthIm * forthIm);
    const grown = scale * halved(decay / 2);
    const passing = 4 * y0Re * glassRe * perForth * grown * grown;
    reflectance[w] = (backRe * backRe + backIm * backIm) * perForth;
    transmittance[w] = passing;

    // dR = Re(weight · iκη (F² − B²)) with weight = 4 Y0 det P r* / D² = 4 Y0 det P (back · forth)* / |D|⁴.
    const common = 4 * perForth * perForth;
    const bothRe = common * (backRe * forthRe - backIm * forthIm);
    const bothIm = common * (backRe * forthIm + backIm * forthRe);
    let weightRe = y0Re * bothRe + y0Im * bothIm;
    let weightIm = y0Im * bothRe - y0Re * bothIm;
    // dr likewise with 2 Y0 det P / D².
    const perSquareRe = 2 * perForth * perForth * (forthRe * forthRe - forthIm * forthIm);
    const perSquareIm = -4 * perForth * perForth * forthRe * forthIm;
    let strengthRe = y0Re * perSquareRe - y0Im * perSquareIm;
    let strengthIm = y0Re * perSquareIm + y0Im * perSquareRe;
    const fall = -2 * passing * perForth;
    let secondRe = fall * forthRe;
    let secondIm = -fall * forthIm;
    let firstRe = y0Re * secondRe - y0Im * secondIm;
    let firstIm = y0Re * secondIm + y0Im * secondRe;
    const out = w * layerCount;
    for (let j = layerCount - 1, s = j * ABSORBING_SCRATCH; j >= 0; j--, s -= ABSORBING_SCRATCH) {
      const at = (row + boundaryOf[j]!) * stride;
      const ratioRe = boundaries[at + 2]!;
      const ratioIm = boundaries[at + 3]!;
      const ownRe = ratioRe * secondRe - ratioIm * secondIm;
      const ownIm = ratioRe * secondIm + ratioIm * secondRe;
      const electricRe = scratch[s]!;
      const electricIm = scratch[s + 1]!;
      const magneticRe = scratch[s + 2]!;
      const magneticIm = scratch[s + 3]!;

      const reachRe = firstRe * magneticRe - firstIm * magneticIm + (ownRe * electricRe - ownIm * electricIm);
      const reachIm = firstRe * magneticIm + firstIm * magneticRe + (ownRe * electricIm + ownIm * electricRe);
      transmittanceDerivative[out + j] =
        growth * boundaries[at + 1]! * reachRe - turn * boundaries[at]! * reachIm;

      const lessRe = magneticRe - electricRe;
      const lessIm = magneticIm - electricIm;
      const moreRe = magneticRe + electricRe;
      const moreIm = magneticIm + electricIm;
      const sizeRe = lessRe * moreRe - lessIm * moreIm;
      const sizeIm = lessRe * moreIm + lessIm * moreRe;
      const slopeRe = boundaries[at + 4]!;
      const slopeIm = boundaries[at + 5]!;
      const bendRe = slopeRe * sizeRe - slopeIm * sizeIm;
      const bendIm = slopeRe * sizeIm + slopeIm * sizeRe;
      reflectanceDerivative[out + j] = weightRe * bendRe - weightIm * bendIm;
      const passed = scratch[s + 8]!;
      weightRe *= passed;
      weightIm *= passed;
      if (amplitudeDerivative !== undefined) {
        amplitudeDerivative[2 * (out + j)] = strengthRe * bendRe - strengthIm * bendIm;
        amplitudeDerivative[2 * (out + j) + 1] = strengthRe * bendIm + strengthIm * bendRe;
        strengthRe *= passed;
        strengthIm *= passed;
      }

      const even = scratch[s + 4]!;
      const odd = scratch[s + 5]!;
      const cosine = scratch[s + 6]!;
      const sine = scratch[s + 7]!;
      const gRe = even * firstRe + odd * ownRe;
      const gIm = even * firstIm + odd * ownIm;
      const hRe = odd * firstRe + even * ownRe;
      const hIm = odd * firstIm + even * ownIm;
      firstRe = cosine * gRe - sine * hIm;
      firstIm = cosine * gIm + sine * hRe;
      secondRe = cosine * hRe - sine * gIm;
      secondIm = cosine * hIm + sine * gRe;
    }
  }
}
