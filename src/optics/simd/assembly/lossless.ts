import { abs, add, div, mul, neg, placeOf, storeLanes, sub } from './lanes.ts';
import { circularBottom, circularTop, nearest } from './rational.ts';

const LAYERS_BETWEEN_RESCALES: i32 = 128;
/** Bytes that are kept for each layer. */
const SCRATCH: usize = 48;

/**
 * R and T of layers that neither absorb nor are evanescent, with their derivatives where these are wanted, two wavelengths
 * at once: the operations of lossless-kernel.ts and lossless-jacobian.ts in their order, so that every bit comes out
 * alike. There stands also why they are right.
 *
 * `rows` to `end` are rows as kernel-rows.ts writes them, one for each two wavelengths; `boundaryOf` says where in a row
 * the boundary above each layer stands. R and T take two values for each row. Derivatives lie as lossless-jacobian.ts
 * has them; `reflectanceDerivative` is 0 where none are wanted, `amplitudeDerivative` where that one is not.
 */
export function spectrumLossless(
  rows: usize,
  end: usize,
  rowBytes: usize,
  boundaryOf: usize,
  layerCount: i32,
  thicknessNm: usize,
  reflectance: usize,
  transmittance: usize,
  reflectanceDerivative: usize,
  transmittanceDerivative: usize,
  amplitudeDerivative: usize,
  scratch: usize,
): void {
  const one = f64x2.splat(1);
  const two = f64x2.splat(2);
  const four = f64x2.splat(4);
  const lineBytes = placeOf(layerCount, 8);
  for (let row = rows; row < end; row += rowBytes) {
    let bRe = one;
    let bIm = f64x2.splat(0);
    let fieldRe = v128.load(row);
    let fieldIm = v128.load(row, 16);
    let scale = one;
    let kept = scratch;
    for (let j = 0; j < layerCount; j++, kept += SCRATCH) {
      const at = row + <usize>i32.load(boundaryOf + placeOf(j, 4));
      const halfTurns = mul(v128.load(at), v128.load64_splat(thicknessNm + placeOf(j, 8)));
      const f = sub(halfTurns, nearest(halfTurns));
      const p = circularTop(f);
      const q = circularBottom(f);
      const pp = mul(p, p);
      const qq = mul(q, q);
      const sine = mul(add(p, p), q);
      const cosine = sub(qq, pp);
      const nextBRe = sub(mul(cosine, bRe), mul(sine, fieldIm));
      const nextBIm = add(mul(cosine, bIm), mul(sine, fieldRe));
      let upRe = sub(mul(cosine, fieldRe), mul(sine, bIm));
      let upIm = add(mul(cosine, fieldIm), mul(sine, bRe));
      bRe = nextBRe;
      bIm = nextBIm;
      let factor = add(qq, pp);
      scale = mul(scale, factor);
      const ratio = v128.load(at, 16);
      fieldRe = mul(ratio, upRe);
      fieldIm = mul(ratio, upIm);
      if ((j + 1) % LAYERS_BETWEEN_RESCALES === 0) {
        const shrink = div(one, add(add(add(abs(bRe), abs(bIm)), abs(fieldRe)), abs(fieldIm)));
        bRe = mul(bRe, shrink);
        bIm = mul(bIm, shrink);
        fieldRe = mul(fieldRe, shrink);
        fieldIm = mul(fieldIm, shrink);
        upRe = mul(upRe, shrink);
        upIm = mul(upIm, shrink);
        scale = mul(scale, shrink);
        factor = mul(factor, shrink);
      }
      if (reflectanceDerivative === 0) continue;

      const slope = v128.load(at, 32);
      const magnetic = sub(mul(upRe, upRe), mul(upIm, upIm));
      const electric = sub(mul(bRe, bRe), mul(bIm, bIm));
      v128.store(kept, mul(slope, sub(magnetic, electric)));
      v128.store(kept, mul(slope, sub(mul(upRe, upIm), mul(bRe, bIm))), 16);
      v128.store(kept, factor, 32);
    }

    const y0 = v128.load(row, 32);
    const substrate = v128.load(row, 48);
    const frontRe = mul(y0, bRe);
    const frontIm = mul(y0, bIm);
    const backRe = sub(frontRe, fieldRe);
    const backIm = sub(frontIm, fieldIm);
    const forthRe = add(frontRe, fieldRe);
    const forthIm = add(frontIm, fieldIm);
    const perForth = div(one, add(mul(forthRe, forthRe), mul(forthIm, forthIm)));
    const passing = mul(mul(mul(four, y0), substrate), perForth);
    v128.store(reflectance, mul(add(mul(backRe, backRe), mul(backIm, backIm)), perForth));
    v128.store(transmittance, mul(mul(passing, scale), scale));
    reflectance += 16;
    transmittance += 16;
    if (reflectanceDerivative === 0) continue;

    const common = mul(mul(four, y0), perForth);
    const weightRe = mul(mul(common, add(mul(backRe, forthIm), mul(backIm, forthRe))), perForth);
    const weightIm = mul(mul(mul(two, common), sub(mul(backRe, forthRe), mul(backIm, forthIm))), perForth);
    const strength = mul(mul(mul(two, y0), perForth), perForth);
    const turnRe = mul(mul(mul(two, strength), forthRe), forthIm);
    const turnIm = mul(strength, sub(mul(forthRe, forthRe), mul(forthIm, forthIm)));
    let above = one;
    for (let j = layerCount - 1; j >= 0; j--) {
      kept -= SCRATCH;
      const at = placeOf(j, 8);
      const re = v128.load(kept);
      const im = v128.load(kept, 16);
      const derivative = mul(above, sub(mul(weightRe, re), mul(weightIm, im)));
      storeLanes(reflectanceDerivative + at, lineBytes, derivative);
      storeLanes(transmittanceDerivative + at, lineBytes, neg(derivative));
      if (amplitudeDerivative !== 0) {
        const twice = mul(two, im);
        const there = amplitudeDerivative + (at << 1);
        storeLanes(there, lineBytes << 1, mul(above, sub(mul(turnRe, re), mul(turnIm, twice))));
        storeLanes(there + 8, lineBytes << 1, mul(above, add(mul(turnRe, twice), mul(turnIm, re))));
      }
      const factor = v128.load(kept, 32);
      above = mul(above, mul(factor, factor));
    }
    reflectanceDerivative += lineBytes << 1;
    transmittanceDerivative += lineBytes << 1;
    if (amplitudeDerivative !== 0) amplitudeDerivative += lineBytes << 2;
  }
}
