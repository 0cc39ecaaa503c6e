import { CIRCULAR, ROUNDER } from './circular-rational.ts';
import { FRONT_STRIDE, LAYERS_BETWEEN_RESCALES } from './front-field.ts';
import type { LayerTables, WavelengthRun } from './layer-tables.ts';
import { LOSSLESS_STRIDE } from './lossless-table.ts';

/**
 * Carries the field from the substrate through layers that neither absorb nor are evanescent.
 *
 * A layer of phase δ and admittance η turns the field above the layer below it, (B, C), into
 *   B' = cos δ B + i sin δ C / η,  C' = i η sin δ B + cos δ C   (Abelès 1950; Born & Wolf, sec. 1.6.2),
 * which is a rotation of B and F = C / η (see layer-tables.ts). Both are computed times q² + p² (see circular-rational.ts), whose product over the layers is kept as the
 * scale. `lossless` is that of lossless-table.ts, `thicknessNm` has one value a layer; fills `front` (see front-field.ts) for the wavelengths of
 * `run`. Nothing is allocated.
 */
export function propagateLossless(
  tables: LayerTables,
  lossless: Float64Array,
  run: WavelengthRun,
  thicknessNm: Float64Array,
  front: Float64Array,
): void {
  const { entry, layerCount, substrateAdmittance } = tables;
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
    let bRe = 1;
    let bIm = 0;
    let fieldRe = entry[2 * w]! * substrateAdmittance[2 * w]!;
    let fieldIm = entry[2 * w]! * substrateAdmittance[2 * w + 1]!;
    let scale = 1;
    for (let start = 0; start < layerCount; start += LAYERS_BETWEEN_RESCALES) {
      const end = Math.min(start + LAYERS_BETWEEN_RESCALES, layerCount);
      for (let j = start; j < end; j++, at += stride) {
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
        const ratio = lossless[at + 1]!;
        const nextBRe = cosine * bRe - sine * fieldIm;
        const nextBIm = cosine * bIm + sine * fieldRe;
        fieldRe = ratio * (cosine * fieldRe - sine * bIm);
        fieldIm = ratio * (cosine * fieldIm + sine * bRe);
        bRe = nextBRe;
        bIm = nextBIm;
        scale *= qq + pp;
      }
      if (end - start === LAYERS_BETWEEN_RESCALES) {
        const shrink = 1 / (Math.abs(bRe) + Math.abs(bIm) + Math.abs(fieldRe) + Math.abs(fieldIm));
        bRe *= shrink;
        bIm *= shrink;
        fieldRe *= shrink;
        fieldIm *= shrink;
        scale *= shrink;
      }
    }
    const f = w * FRONT_STRIDE;
    front[f] = bRe;
    front[f + 1] = bIm;
    front[f + 2] = fieldRe;
    front[f + 3] = fieldIm;
    front[f + 4] = scale;
  }
}
