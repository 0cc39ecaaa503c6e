import { CIRCULAR, ROUNDER } from './circular-rational.ts';
import { LAYERS_BETWEEN_RESCALES } from './front-field.ts';
import type { LayerTables, WavelengthRun } from './layer-tables.ts';
import { LOSSLESS_STRIDE, type LosslessTable } from './lossless-table.ts';

/** Numbers that `spectrumWithDerivativesLossless` keeps for each layer. */
export const LOSSLESS_SCRATCH = 3;

/**
 * R and T of lossless layers and their derivatives with respect to every thickness, in one pass.
 *
 * A thickness d of phase δ = κ d changes the layer's matrix by dM = κ G M dd with G = i (0 1/η; η 0). The
 * matrix P of everything above it has determinant 1, so that with (B, C) just above the layer
 *   dr/dd = 2 Y0 det[dV, V] / D² = 2 Y0 iκ (C²/η − η B²) / D²,  D = Y0 B + C at the front,
 * where P has dropped out. On the way up κ (C²/η − η B²) = κ η (F² − B²) is kept for each layer; then
 * dR = 2 Re(r* dr), and dT = −dR because nothing absorbs. The kernel's field carries the factors q² + p² of
 * the layers passed so far; those of the layers above are multiplied in on the way back.
 *
 * `scratch` holds LOSSLESS_SCRATCH numbers a layer. Outputs: [wavelength] and [wavelength * layerCount +
 * layer] per nm; `amplitudeDerivative`, where wanted, dr itself as [2 * (wavelength * layerCount + layer)], real and
 * imaginary part. Nothing is allocated.
 */
export function spectrumWithDerivativesLossless(
  tables: LayerTables,
  { turns: lossless, slope: losslessSlope }: LosslessTable,
  run: WavelengthRun,
  thicknessNm: Float64Array,
  scratch: Float64Array,
  reflectance: Float64Array,
  transmittance: Float64Array,
  reflectanceDerivative: Float64Array,
  transmittanceDerivative: Float64Array,
  amplitudeDerivative?: Float64Array,
): void {
  const { entry, layerCount, incidentAdmittance, substrateAdmittance } = tables;
  const p0 = CIRCULAR[0]!;
  const p1 = CIRCULAR[1]!;
  const p2 = CIRCULAR[2]!;
  const p3 = CIRCULAR[3]!;
  const q1 = CIRCULAR[4]!;
  const q2 = CIRCULAR[5]!;
  const q3 = CIRCULAR[6]!;
  const rounder = ROUNDER[0]!;
  const stride = LOSSLESS_STRIDE;
  for (let w = run.from; w < run.to; w++) {
    let at = w * layerCount * stride;
    const substrateRe = substrateAdmittance[2 * w]!;
    let bRe = 1;
    let bIm = 0;
    let fieldRe = entry[2 * w]! * substrateRe;
    let fieldIm = entry[2 * w]! * substrateAdmittance[2 * w + 1]!;
    const out = w * layerCount;
    let scale = 1;
    for (let j = 0, s = 0; j < layerCount; j++, s += LOSSLESS_SCRATCH, at += stride) {
      const halfTurns = lossless[at]! * thicknessNm[j]!;
      const f = halfTurns - (halfTurns + rounder - rounder);
      const z = f * f;
      const zz = z * z;
      const p = f * (p0 + z * p1 + zz * (p2 + z * p3));
      const q = 1 + z * q1 + zz * (q2 + z * q3);
      const pp = p * p;
      const qq = q * q;
      const sine = 2 * p * q;
      const cosine = qq - pp;
      let factor = qq + pp;
      const nextBRe = cosine * bRe - sine * fieldIm;
      const nextBIm = cosine * bIm + sine * fieldRe;
      let upRe = cosine * fieldRe - sine * bIm;
      let upIm = cosine * fieldIm + sine * bRe;
      bRe = nextBRe;
      bIm = nextBIm;
      scale *= factor;
      const ratio = lossless[at + 1]!;
      fieldRe = ratio * upRe;
      fieldIm = ratio * upIm;
      if ((j + 1) % LAYERS_BETWEEN_RESCALES === 0) {
        const shrink = 1 / (Math.abs(bRe) + Math.abs(bIm) + Math.abs(fieldRe) + Math.abs(fieldIm));
        bRe *= shrink;
        bIm *= shrink;
        fieldRe *= shrink;
        fieldIm *= shrink;
        upRe *= shrink;
        upIm *= shrink;
        scale *= shrink;
        factor *= shrink;
      }

      const slope = losslessSlope[out + j]!;
      scratch[s] = slope * (upRe * upRe - upIm * upIm - (bRe * bRe - bIm * bIm));
      scratch[s + 1] = slope * (upRe * upIm - bRe * bIm);
      scratch[s + 2] = factor;
    }

    const y0 = incidentAdmittance[2 * w]!;
    const backRe = y0 * bRe - fieldRe;
    const backIm = y0 * bIm - fieldIm;
    const forthRe = y0 * bRe + fieldRe;
    const forthIm = y0 * bIm + fieldIm;
    const perForth = 1 / (forthRe * forthRe + forthIm * forthIm);
    reflectance[w] = (backRe * backRe + backIm * backIm) * perForth;
    transmittance[w] = 4 * y0 * substrateRe * perForth * scale * scale;

    const common = 4 * y0 * perForth;
    const weightRe = common * (backRe * forthIm + backIm * forthRe) * perForth;
    const weightIm = 2 * common * (backRe * forthRe - backIm * forthIm) * perForth;
    let above = 1;
    for (let j = layerCount - 1, s = j * LOSSLESS_SCRATCH; j >= 0; j--, s -= LOSSLESS_SCRATCH) {
      const derivative = above * (weightRe * scratch[s]! - weightIm * scratch[s + 1]!);
      reflectanceDerivative[out + j] = derivative;
      transmittanceDerivative[out + j] = -derivative;
      const factor = scratch[s + 2]!;
      above *= factor * factor;
    }
    if (amplitudeDerivative === undefined) continue;

    // dr = turn · κ (C²/η − ηB²) · above with turn = 2i Y0 / D².
    const strength = 2 * y0 * perForth * perForth;
    const turnRe = 2 * strength * forthRe * forthIm;
    const turnIm = strength * (forthRe * forthRe - forthIm * forthIm);
    above = 1;
    for (let j = layerCount - 1, s = j * LOSSLESS_SCRATCH; j >= 0; j--, s -= LOSSLESS_SCRATCH) {
      const re = scratch[s]!;
      const im = 2 * scratch[s + 1]!;
      amplitudeDerivative[2 * (out + j)] = above * (turnRe * re - turnIm * im);
      amplitudeDerivative[2 * (out + j) + 1] = above * (turnRe * im + turnIm * re);
      const factor = scratch[s + 2]!;
      above *= factor * factor;
    }
  }
}
