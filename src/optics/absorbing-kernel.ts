import {
  MOST_OCTAVES,
  OCTAVE_HALVES,
  P0,
  P1,
  P2,
  P3,
  Q1,
  Q2,
  Q3,
  ROUNDER,
  U0,
  U1,
  U2,
  V1,
  V2,
} from './circular-rational.ts';
import { FRONT_STRIDE, LAYERS_BETWEEN_RESCALES } from './front-field.ts';
import { ABSORBING_STRIDE, type LayerTables, type WavelengthRun } from './layer-tables.ts';

/**
 * Carries the field from the substrate through layers that may absorb or be evanescent.
 *
 * With complex phase δ = a − ib, b >= 0, the wave that travels towards the front grows by exp(b) and the
 * other one shrinks by as much. The layer's matrix is therefore taken times exp(−b):
 *   cos δ → ½ [(1 + m) cos a + i (1 − m) sin a],  i sin δ → ½ [(1 − m) cos a + i (1 + m) sin a],  m = exp(−2b),
 * so that no layer can overflow, however thick, and an evanescent one stays exact at the critical angle,
 * where η vanishes but sin δ / η does not. (1 ± m) / 2 come as `even` and `odd` from whole and broken octaves
 * without subtracting nearly equal numbers. Everything is computed times (q² + p²)(v + u), see
 * circular-rational.ts; the product of these and of exp(−b) is kept as the scale.
 * Fills `front` (see front-field.ts) for the wavelengths of `run`. Nothing is allocated.
 */
export function propagateAbsorbing(
  tables: LayerTables,
  run: WavelengthRun,
  thicknessNm: Float64Array,
  front: Float64Array,
): void {
  const { absorbing, mediumOf, mediumCount, layerCount, substrateAdmittance } = tables;
  const halves = OCTAVE_HALVES;
  for (let w = run.from; w < run.to; w++) {
    const row = w * mediumCount;
    let bRe = 1;
    let bIm = 0;
    let cRe = substrateAdmittance[2 * w]!;
    let cIm = substrateAdmittance[2 * w + 1]!;
    let scale = 1;
    let decay = 0;
    for (let start = 0; start < layerCount; start += LAYERS_BETWEEN_RESCALES) {
      const end = Math.min(start + LAYERS_BETWEEN_RESCALES, layerCount);
      for (let j = start; j < end; j++) {
        const at = (row + mediumOf[j]!) * ABSORBING_STRIDE;
        const thickness = thicknessNm[j]!;

        const halfTurns = absorbing[at]! * thickness;
        const f = halfTurns - (halfTurns + ROUNDER - ROUNDER);
        const zf = f * f;
        const p = f * (P0 + zf * (P1 + zf * (P2 + zf * P3)));
        const q = 1 + zf * (Q1 + zf * (Q2 + zf * Q3));
        const pp = p * p;
        const qq = q * q;
        const sine = 2 * p * q;
        const cosine = qq - pp;

        const octaves = absorbing[at + 1]! * thickness;
        const whole = octaves + ROUNDER - ROUNDER;
        const g = octaves - whole;
        const zg = g * g;
        const u = g * (U0 + zg * (U1 + zg * U2));
        const v = 1 + zg * (V1 + zg * V2);
        const half = 2 * Math.min(whole, MOST_OCTAVES);
        const even = v * halves[half]! + u * halves[half + 1]!;
        const odd = v * halves[half + 1]! + u * halves[half]!;

        const cosRe = even * cosine;
        const cosIm = odd * sine;
        const sinRe = odd * cosine;
        const sinIm = even * sine;
        const etaRe = absorbing[at + 2]!;
        const etaIm = absorbing[at + 3]!;
        const perRe = absorbing[at + 4]!;
        const perIm = absorbing[at + 5]!;
        const upRe = sinRe * etaRe - sinIm * etaIm;
        const upIm = sinRe * etaIm + sinIm * etaRe;
        const downRe = sinRe * perRe - sinIm * perIm;
        const downIm = sinRe * perIm + sinIm * perRe;

        const nextBRe = cosRe * bRe - cosIm * bIm + (downRe * cRe - downIm * cIm);
        const nextBIm = cosRe * bIm + cosIm * bRe + (downRe * cIm + downIm * cRe);
        const nextCRe = cosRe * cRe - cosIm * cIm + (upRe * bRe - upIm * bIm);
        cIm = cosRe * cIm + cosIm * cRe + (upRe * bIm + upIm * bRe);
        cRe = nextCRe;
        bRe = nextBRe;
        bIm = nextBIm;
        scale *= (qq + pp) * (v + u);
        decay += octaves;
      }
      if (end < layerCount) {
        const shrink = 1 / (Math.abs(bRe) + Math.abs(bIm) + Math.abs(cRe) + Math.abs(cIm));
        bRe *= shrink;
        bIm *= shrink;
        cRe *= shrink;
        cIm *= shrink;
        scale *= shrink;
      }
    }
    const f = w * FRONT_STRIDE;
    front[f] = bRe;
    front[f + 1] = bIm;
    front[f + 2] = cRe;
    front[f + 3] = cIm;
    front[f + 4] = scale * 2 ** (-decay / 2);
  }
}
