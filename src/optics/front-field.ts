import type { LayerTables } from './layer-tables.ts';

/**
 * The field at the front of a stack, [wavelength][FRONT_STRIDE]: Re B, Im B, Re C, Im C up to a common
 * factor, and the scale: that factor over the growth of the field from substrate to front.
 */
export const FRONT_STRIDE = 5;

/**
 * So many layers a kernel takes before it divides the vector by its own size. Within 128 layers the field
 * can grow by (ratio of admittances)^64, which stays far below the largest double for any real film.
 */
export const LAYERS_BETWEEN_RESCALES = 128;

/**
 * Reflectance and transmittance from the field at the front: R = |(Y0 B − C) / (Y0 B + C)|²,
 * T = 4 Re(Y0) Re(Ysub) / |Y0 B + C|² (Abelès 1950; Born & Wolf, sec. 1.6.4, in admittances).
 */
export function reflectFront(
  { wavelengthCount, incidentAdmittance, substrateAdmittance }: LayerTables,
  front: Float64Array,
  reflectance: Float64Array,
  transmittance: Float64Array,
): void {
  for (let w = 0, f = 0; w < wavelengthCount; w++, f += FRONT_STRIDE) {
    const y0Re = incidentAdmittance[2 * w]!;
    const y0Im = incidentAdmittance[2 * w + 1]!;
    const bRe = y0Re * front[f]! - y0Im * front[f + 1]!;
    const bIm = y0Re * front[f + 1]! + y0Im * front[f]!;
    const cRe = front[f + 2]!;
    const cIm = front[f + 3]!;
    const scale = front[f + 4]!;
    const backRe = bRe - cRe;
    const backIm = bIm - cIm;
    const forthRe = bRe + cRe;
    const forthIm = bIm + cIm;
    const perForth = 1 / (forthRe * forthRe + forthIm * forthIm);
    reflectance[w] = (backRe * backRe + backIm * backIm) * perForth;
    transmittance[w] = 4 * y0Re * substrateAdmittance[2 * w]! * perForth * scale * scale;
  }
}

/**
 * The reflection coefficient r = (Y0 B − C) / (Y0 B + C) of the tangential electric field. For p at normal
 * incidence this convention agrees with s.
 */
export function reflectAmplitude(
  { wavelengthCount, incidentAdmittance }: LayerTables,
  front: Float64Array,
  re: Float64Array,
  im: Float64Array,
): void {
  for (let w = 0, f = 0; w < wavelengthCount; w++, f += FRONT_STRIDE) {
    const y0Re = incidentAdmittance[2 * w]!;
    const y0Im = incidentAdmittance[2 * w + 1]!;
    const bRe = y0Re * front[f]! - y0Im * front[f + 1]!;
    const bIm = y0Re * front[f + 1]! + y0Im * front[f]!;
    const backRe = bRe - front[f + 2]!;
    const backIm = bIm - front[f + 3]!;
    const forthRe = bRe + front[f + 2]!;
    const forthIm = bIm + front[f + 3]!;
    const size = forthRe * forthRe + forthIm * forthIm;
    re[w] = (backRe * forthRe + backIm * forthIm) / size;
    im[w] = (backIm * forthRe - backRe * forthIm) / size;
  }
}
