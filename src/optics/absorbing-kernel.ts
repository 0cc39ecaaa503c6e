import { CIRCULAR, HYPERBOLIC, halved, MOST_OCTAVES, OCTAVE_HALVES, ROUNDER } from './circular-rational.ts';
import { FRONT_STRIDE, LAYERS_BETWEEN_RESCALES } from './front-field.ts';
import { BOUNDARY_STRIDE } from './layer-boundaries.ts';
import type { LayerTables, WavelengthRun } from './layer-tables.ts';

/**
 * Carries the field from the substrate through layers that may absorb or be evanescent.
 *
 * With complex phase δ = a − ib, b >= 0, the wave that travels towards the front grows by exp(b) and the
 * other one shrinks by as much. The layer's matrix is therefore taken times exp(−b). With m = exp(−2b),
 * even = (1 + m) / 2, odd = (1 − m) / 2 and the magnetic field in the layer's own units, F = C / η (see
 * layer-tables.ts),
 *   G = even B + odd F,  H = odd B + even F,
 *   B' = cos a G + i sin a H,  F' = cos a H + i sin a G,
 * which is decay and turn one after the other. No layer can overflow, however thick, and an evanescent one
 * stays exact at the critical angle, where F grows without limit but odd and sin a vanish as fast, for `odd`
 * comes from whole and broken octaves without subtracting nearly equal numbers. Everything is computed times
 * (q² + p²)(v + u), see circular-rational.ts; the product of these and of exp(−b) is kept as the scale.
 * Fills `front` (see front-field.ts) for the wavelengths of `run`. Nothing is allocated.
 */
export function propagateAbsorbing(
  tables: LayerTables,
  run: WavelengthRun,
  thicknessNm: Float64Array,
  front: Float64Array,
): void {
  const { boundaries, boundaryOf, boundaryCount, entry, layerCount, substrateAdmittance } = tables;
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
    for (let start = 0; start < layerCount; start += LAYERS_BETWEEN_RESCALES) {
      const end = Math.min(start + LAYERS_BETWEEN_RESCALES, layerCount);
      for (let j = start; j < end; j++) {
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
        if (whole !== 0) {
          const half = 2 * Math.min(whole, MOST_OCTAVES);
          even = v * halves[half]! + u * halves[half + 1]!;
          odd = v * halves[half + 1]! + u * halves[half]!;
        }

        const ratioRe = boundaries[at + 2]!;
        const ratioIm = boundaries[at + 3]!;
        const gRe = even * bRe + odd * fieldRe;
        const gIm = even * bIm + odd * fieldIm;
        const hRe = odd * bRe + even * fieldRe;
        const hIm = odd * bIm + even * fieldIm;
        bRe = cosine * gRe - sine * hIm;
        bIm = cosine * gIm + sine * hRe;
        const upRe = cosine * hRe - sine * gIm;
        const upIm = cosine * hIm + sine * gRe;
        fieldRe = ratioRe * upRe - ratioIm * upIm;
        fieldIm = ratioRe * upIm + ratioIm * upRe;
        scale *= (qq + pp) * (v + u);
        decay += octaves;
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
    front[f + 4] = scale * halved(decay / 2);
  }
}
