import { CIRCULAR, HYPERBOLIC, MOST_OCTAVES, OCTAVE_HALVES, ROUNDER } from './circular-rational.ts';
import { LAYERS_BETWEEN_RESCALES } from './front-field.ts';
import { ABSORBING_STRIDE, type LayerTables, type WavelengthRun } from './layer-tables.ts';

/** Numbers that `spectrumWithDerivativesAbsorbing` keeps for each layer. */
export const ABSORBING_SCRATCH = 12;

/**
 * R and T of layers that may absorb or be evanescent, and their derivatives with respect to every thickness.
 *
 * The way up is that of absorbing-kernel.ts. With W = iκ (C/η; η B) just above a layer, V the field there, P
 * the matrix of everything above and D = Y0 B + C at the front:
 *   dr/dd = 2 Y0 det[P W, P V] / D² = 2 Y0 det P det[W, V] / D²   (det P = 1 but for the kernel's factors),
 *   dD/dd = det[P W, U] = det P det[W, P⁻¹ U]  with  U = (−1; Y0),  and  dT = −2 T Re(dD / D).
 * P⁻¹ U is carried downwards with the layers' matrices, which were kept on the way up; there all of the
 * kernel's factors cancel. `scratch` holds ABSORBING_SCRATCH numbers a layer. `amplitudeDerivative`, where wanted,
 * takes dr as [2 * (wavelength * layerCount + layer)], real and imaginary part. Nothing is allocated.
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
  const { absorbing, mediumOf, mediumCount, layerCount, incidentAdmittance, substrateAdmittance } = tables;
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
  for (let w = run.from; w < run.to; w++) {
    const row = w * mediumCount;
    const substrateRe = substrateAdmittance[2 * w]!;
    let bRe = 1;
    let bIm = 0;
    let cRe = substrateRe;
    let cIm = substrateAdmittance[2 * w + 1]!;
    let scale = 1;
    let decay = 0;
    for (let j = 0, s = 0; j < layerCount; j++, s += ABSORBING_SCRATCH) {
      const at = (row + mediumOf[j]!) * ABSORBING_STRIDE;
      const halfTurns = absorbing[at]! * thicknessNm[j]!;
      const f = halfTurns - (halfTurns + rounder - rounder);
      const zf = f * f;
      const zzf = zf * zf;
      const p = f * (p0 + zf * p1 + zzf * (p2 + zf * p3));
      const q = 1 + zf * q1 + zzf * (q2 + zf * q3);
      const pp = p * p;
      const qq = q * q;
      const sine = 2 * p * q;
      const cosine = qq - pp;

      const octaves = absorbing[at + 1]! * thicknessNm[j]!;
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

      const etaRe = absorbing[at + 2]!;
      const etaIm = absorbing[at + 3]!;
      const perRe = absorbing[at + 4]!;
      const perIm = absorbing[at + 5]!;
      const flowRe = perRe * cRe - perIm * cIm;
      const flowIm = perRe * cIm + perIm * cRe;
      const gRe = even * bRe + odd * flowRe;
      const gIm = even * bIm + odd * flowIm;
      const hRe = odd * bRe + even * flowRe;
      const hIm = odd * bIm + even * flowIm;
      bRe = cosine * gRe - sine * hIm;
      bIm = cosine * gIm + sine * hRe;
      const upRe = cosine * hRe - sine * gIm;
      const upIm = cosine * hIm + sine * gRe;
      cRe = etaRe * upRe - etaIm * upIm;
      cIm = etaRe * upIm + etaIm * upRe;

      scratch[s] = even;
      scratch[s + 1] = odd;
      scratch[s + 2] = cosine;
      scratch[s + 3] = sine;
      scratch[s + 4] = upRe;
      scratch[s + 5] = upIm;
      scratch[s + 6] = bRe;
      scratch[s + 7] = bIm;
      scratch[s + 8] = cRe;
      scratch[s + 9] = cIm;
      let shrink = 1;
      if ((j + 1) % LAYERS_BETWEEN_RESCALES === 0) {
        shrink = 1 / (Math.abs(bRe) + Math.abs(bIm) + Math.abs(cRe) + Math.abs(cIm));
        bRe *= shrink;
        bIm *= shrink;
        cRe *= shrink;
        cIm *= shrink;
      }
      const factor = qq + pp;
      scratch[s + 10] = shrink;
      scratch[s + 11] = factor * factor * (v - u) * (v + u) * shrunk;
      scale *= factor * (v + u) * shrink;
      decay += octaves;
    }

    const y0Re = incidentAdmittance[2 * w]!;
    const y0Im = incidentAdmittance[2 * w + 1]!;
    const frontRe = y0Re * bRe - y0Im * bIm;
    const frontIm = y0Re * bIm + y0Im * bRe;
    const backRe = frontRe - cRe;
    const backIm = frontIm - cIm;
    const forthRe = frontRe + cRe;
    const forthIm = frontIm + cIm;
    const perForth = 1 / (forthRe * forthRe + forthIm * forthIm);
    const grown = scale * 2 ** (-decay / 2);
    reflectance[w] = (backRe * backRe + backIm * backIm) * perForth;
    transmittance[w] = 4 * y0Re * substrateRe * perForth * grown * grown;

    // dR = Re(weight · det[W, V]) · above with weight = 4 Y0 r* / D² = 4 Y0 (back · forth)* / |D|⁴.
    const common = 4 * perForth * perForth;
    const bothRe = common * (backRe * forthRe - backIm * forthIm);
    const bothIm = common * (backRe * forthIm + backIm * forthRe);
    const weightRe = y0Re * bothRe + y0Im * bothIm;
    const weightIm = y0Im * bothRe - y0Re * bothIm;
    // dr = turn · det[W, V] · above with turn = 2 Y0 / D².
    const perSquareRe = 2 * perForth * perForth * (forthRe * forthRe - forthIm * forthIm);
    const perSquareIm = -4 * perForth * perForth * forthRe * forthIm;
    const turnRe = y0Re * perSquareRe - y0Im * perSquareIm;
    const turnIm = y0Re * perSquareIm + y0Im * perSquareRe;
    // dT = Re(fall · dD) with fall = −2 T / D.
    const fall = -2 * transmittance[w]! * perForth;
    const fallRe = fall * forthRe;
    const fallIm = -fall * forthIm;
    const out = w * layerCount;
    let above = 1;
    let firstRe = -1;
    let firstIm = 0;
    let secondRe = y0Re;
    let secondIm = y0Im;
    for (let j = layerCount - 1, s = j * ABSORBING_SCRATCH; j >= 0; j--, s -= ABSORBING_SCRATCH) {
      const at = (row + mediumOf[j]!) * ABSORBING_STRIDE;
      const etaRe = absorbing[at + 2]!;
      const etaIm = absorbing[at + 3]!;
      const perRe = absorbing[at + 4]!;
      const perIm = absorbing[at + 5]!;
      const shrink = scratch[s + 10]!;
      above *= shrink * shrink;
      firstRe *= shrink;
      firstIm *= shrink;
      secondRe *= shrink;
      secondIm *= shrink;
      // W = iκ (C / η; η B), iκ = octaves ln 2 / 2 + i π half turns, both per nm.
      const rateRe = 0.5 * Math.LN2 * absorbing[at + 1]!;
      const rateIm = Math.PI * absorbing[at]!;
      const bReHere = scratch[s + 6]!;
      const bImHere = scratch[s + 7]!;
      const cReHere = scratch[s + 8]!;
      const cImHere = scratch[s + 9]!;
      const topRe = scratch[s + 4]!;
      const topIm = scratch[s + 5]!;
      const lowRe = etaRe * bReHere - etaIm * bImHere;
      const lowIm = etaRe * bImHere + etaIm * bReHere;

      const sizeRe = topRe * cReHere - topIm * cImHere - (lowRe * bReHere - lowIm * bImHere);
      const sizeIm = topRe * cImHere + topIm * cReHere - (lowRe * bImHere + lowIm * bReHere);
      const bendRe = rateRe * sizeRe - rateIm * sizeIm;
      const bendIm = rateRe * sizeIm + rateIm * sizeRe;
      reflectanceDerivative[out + j] = above * (weightRe * bendRe - weightIm * bendIm);
      if (amplitudeDerivative !== undefined) {
        amplitudeDerivative[2 * (out + j)] = above * (turnRe * bendRe - turnIm * bendIm);
        amplitudeDerivative[2 * (out + j) + 1] = above * (turnRe * bendIm + turnIm * bendRe);
      }

      const reachRe = topRe * secondRe - topIm * secondIm - (lowRe * firstRe - lowIm * firstIm);
      const reachIm = topRe * secondIm + topIm * secondRe - (lowRe * firstIm + lowIm * firstRe);
      const gainRe = rateRe * reachRe - rateIm * reachIm;
      const gainIm = rateRe * reachIm + rateIm * reachRe;
      transmittanceDerivative[out + j] = fallRe * gainRe - fallIm * gainIm;

      above *= scratch[s + 11]!;
      const even = scratch[s]!;
      const odd = scratch[s + 1]!;
      const cosine = scratch[s + 2]!;
      const sine = scratch[s + 3]!;
      const flowRe = perRe * secondRe - perIm * secondIm;
      const flowIm = perRe * secondIm + perIm * secondRe;
      const gRe = even * firstRe - odd * flowRe;
      const gIm = even * firstIm - odd * flowIm;
      const hRe = even * flowRe - odd * firstRe;
      const hIm = even * flowIm - odd * firstIm;
      firstRe = cosine * gRe + sine * hIm;
      firstIm = cosine * gIm - sine * hRe;
      const downRe = cosine * hRe + sine * gIm;
      const downIm = cosine * hIm - sine * gRe;
      secondRe = etaRe * downRe - etaIm * downIm;
      secondIm = etaRe * downIm + etaIm * downRe;
    }
  }
}
