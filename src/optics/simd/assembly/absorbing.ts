import { abs, add, div, mul, placeOf, storeLanes, sub } from './lanes.ts';
import {
  circularBottom,
  circularTop,
  evenHalves,
  GROWTH_PER_OCTAVE,
  halved,
  hyperbolicBottom,
  hyperbolicTop,
  nearest,
  oddHalves,
} from './rational.ts';

const LAYERS_BETWEEN_RESCALES: i32 = 128;
/** Bytes that are kept for each layer. */
const SCRATCH: usize = 144;

/**
 * R and T of layers that may absorb or be evanescent, with their derivatives where these are wanted, two wavelengths at
 * once: the operations of absorbing-kernel.ts and absorbing-jacobian.ts in their order. Parameters as in lossless.ts.
 */
export function spectrumAbsorbing(
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
  const zero = f64x2.splat(0);
  const one = f64x2.splat(1);
  const four = f64x2.splat(4);
  const lineBytes = placeOf(layerCount, 8);
  for (let row = rows; row < end; row += rowBytes) {
    let bRe = one;
    let bIm = zero;
    let fieldRe = v128.load(row);
    let fieldIm = v128.load(row, 16);
    let scale = one;
    let decay = zero;
    let kept = scratch;
    for (let j = 0; j < layerCount; j++, kept += SCRATCH) {
      const at = row + <usize>i32.load(boundaryOf + placeOf(j, 4));
      const thickness = v128.load64_splat(thicknessNm + placeOf(j, 8));
      const halfTurns = mul(v128.load(at), thickness);
      const f = sub(halfTurns, nearest(halfTurns));
      const p = circularTop(f);
      const q = circularBottom(f);
      const pp = mul(p, p);
      const qq = mul(q, q);
      const sine = mul(add(p, p), q);
      const cosine = sub(qq, pp);
      const octaves = mul(v128.load(at, 16), thickness);
      const whole = nearest(octaves);
      const g = sub(octaves, whole);
      const u = hyperbolicTop(g);
      const v = hyperbolicBottom(g);
      let even = v;
      let odd = u;
      let shrunk = one;
      if (v128.any_true(f64x2.ne(whole, zero))) {
        const evenHalf = evenHalves(whole);
        const oddHalf = oddHalves(whole);
        even = add(mul(v, evenHalf), mul(u, oddHalf));
        odd = add(mul(v, oddHalf), mul(u, evenHalf));
        shrunk = sub(evenHalf, oddHalf);
      }

      const gRe = add(mul(even, bRe), mul(odd, fieldRe));
      const gIm = add(mul(even, bIm), mul(odd, fieldIm));
      const hRe = add(mul(odd, bRe), mul(even, fieldRe));
      const hIm = add(mul(odd, bIm), mul(even, fieldIm));
      bRe = sub(mul(cosine, gRe), mul(sine, hIm));
      bIm = add(mul(cosine, gIm), mul(sine, hRe));
      const upRe = sub(mul(cosine, hRe), mul(sine, gIm));
      const upIm = add(mul(cosine, hIm), mul(sine, gRe));
      const turned = add(qq, pp);
      let shrink = one;
      scale = mul(scale, mul(turned, add(v, u)));
      decay = add(decay, octaves);
      const ratioRe = v128.load(at, 32);
      const ratioIm = v128.load(at, 48);
      fieldRe = sub(mul(ratioRe, upRe), mul(ratioIm, upIm));
      fieldIm = add(mul(ratioRe, upIm), mul(ratioIm, upRe));
      if ((j + 1) % LAYERS_BETWEEN_RESCALES === 0) {
        shrink = div(one, add(add(add(abs(bRe), abs(bIm)), abs(fieldRe)), abs(fieldIm)));
        bRe = mul(bRe, shrink);
        bIm = mul(bIm, shrink);
        fieldRe = mul(fieldRe, shrink);
        fieldIm = mul(fieldIm, shrink);
        scale = mul(scale, shrink);
      }
      if (reflectanceDerivative === 0) continue;
      const passed = mul(mul(mul(mul(turned, turned), sub(v, u)), add(v, u)), shrunk);
      v128.store(kept, bRe);
      v128.store(kept, bIm, 16);
      v128.store(kept, mul(upRe, shrink), 32);
      v128.store(kept, mul(upIm, shrink), 48);
      v128.store(kept, mul(even, shrink), 64);
      v128.store(kept, mul(odd, shrink), 80);
      v128.store(kept, cosine, 96);
      v128.store(kept, sine, 112);
      v128.store(kept, mul(passed, mul(shrink, shrink)), 128);
    }
    const y0Re = v128.load(row, 32);
    const y0Im = v128.load(row, 48);
    const frontRe = sub(mul(y0Re, bRe), mul(y0Im, bIm));
    const frontIm = add(mul(y0Re, bIm), mul(y0Im, bRe));
    const backRe = sub(frontRe, fieldRe);
    const backIm = sub(frontIm, fieldIm);
    const forthRe = add(frontRe, fieldRe);
    const forthIm = add(frontIm, fieldIm);
    const perForth = div(one, add(mul(forthRe, forthRe), mul(forthIm, forthIm)));
    const grown = mul(scale, halved(mul(f64x2.splat(0.5), decay)));
    const passing = mul(mul(mul(mul(mul(four, y0Re), v128.load(row, 64)), perForth), grown), grown);
    v128.store(reflectance, mul(add(mul(backRe, backRe), mul(backIm, backIm)), perForth));
    v128.store(transmittance, passing);
    reflectance += 16;
    transmittance += 16;
    if (reflectanceDerivative === 0) continue;

    const common = mul(mul(four, perForth), perForth);
    const bothRe = mul(common, sub(mul(backRe, forthRe), mul(backIm, forthIm)));
    const bothIm = mul(common, add(mul(backRe, forthIm), mul(backIm, forthRe)));
    let weightRe = add(mul(y0Re, bothRe), mul(y0Im, bothIm));
    let weightIm = sub(mul(y0Im, bothRe), mul(y0Re, bothIm));
    const perSquare = mul(mul(f64x2.splat(2), perForth), perForth);
    const perSquareRe = mul(perSquare, sub(mul(forthRe, forthRe), mul(forthIm, forthIm)));
    const perSquareIm = mul(mul(mul(f64x2.splat(-2), perSquare), forthRe), forthIm);
    let strengthRe = sub(mul(y0Re, perSquareRe), mul(y0Im, perSquareIm));
    let strengthIm = add(mul(y0Re, perSquareIm), mul(y0Im, perSquareRe));
    const fall = mul(mul(f64x2.splat(-2), passing), perForth);
    let secondRe = mul(fall, forthRe);
    let secondIm = sub(zero, mul(fall, forthIm));
    let firstRe = sub(mul(y0Re, secondRe), mul(y0Im, secondIm));
    let firstIm = add(mul(y0Re, secondIm), mul(y0Im, secondRe));
    for (let j = layerCount - 1; j >= 0; j--) {
      kept -= SCRATCH;
      const here = placeOf(j, 8);
      const at = row + <usize>i32.load(boundaryOf + placeOf(j, 4));
      const ratioRe = v128.load(at, 32);
      const ratioIm = v128.load(at, 48);
      const ownRe = sub(mul(ratioRe, secondRe), mul(ratioIm, secondIm));
      const ownIm = add(mul(ratioRe, secondIm), mul(ratioIm, secondRe));
      const eRe = v128.load(kept);
      const eIm = v128.load(kept, 16);
      const mRe = v128.load(kept, 32);
      const mIm = v128.load(kept, 48);
      const reachRe = add(sub(mul(firstRe, mRe), mul(firstIm, mIm)), sub(mul(ownRe, eRe), mul(ownIm, eIm)));
      const reachIm = add(add(mul(firstRe, mIm), mul(firstIm, mRe)), add(mul(ownRe, eIm), mul(ownIm, eRe)));
      const rateRe = mul(f64x2.splat(GROWTH_PER_OCTAVE), v128.load(at, 16));
      const rateIm = mul(f64x2.splat(Math.PI), v128.load(at));
      storeLanes(transmittanceDerivative + here, lineBytes, sub(mul(rateRe, reachRe), mul(rateIm, reachIm)));

      const lessRe = sub(mRe, eRe);
      const lessIm = sub(mIm, eIm);
      const moreRe = add(mRe, eRe);
      const moreIm = add(mIm, eIm);
      const sizeRe = sub(mul(lessRe, moreRe), mul(lessIm, moreIm));
      const sizeIm = add(mul(lessRe, moreIm), mul(lessIm, moreRe));
      const slopeRe = v128.load(at, 64);
      const slopeIm = v128.load(at, 80);
      const bendRe = sub(mul(slopeRe, sizeRe), mul(slopeIm, sizeIm));
      const bendIm = add(mul(slopeRe, sizeIm), mul(slopeIm, sizeRe));
      storeLanes(reflectanceDerivative + here, lineBytes, sub(mul(weightRe, bendRe), mul(weightIm, bendIm)));
      const passed = v128.load(kept, 128);
      weightRe = mul(weightRe, passed);
      weightIm = mul(weightIm, passed);
      if (amplitudeDerivative !== 0) {
        const there = amplitudeDerivative + (here << 1);
        storeLanes(there, lineBytes << 1, sub(mul(strengthRe, bendRe), mul(strengthIm, bendIm)));
        storeLanes(there + 8, lineBytes << 1, add(mul(strengthRe, bendIm), mul(strengthIm, bendRe)));
        strengthRe = mul(strengthRe, passed);
        strengthIm = mul(strengthIm, passed);
      }
      const even = v128.load(kept, 64);
      const odd = v128.load(kept, 80);
      const cosine = v128.load(kept, 96);
      const sine = v128.load(kept, 112);
      const gRe = add(mul(even, firstRe), mul(odd, ownRe));
      const gIm = add(mul(even, firstIm), mul(odd, ownIm));
      const hRe = add(mul(odd, firstRe), mul(even, ownRe));
      const hIm = add(mul(odd, firstIm), mul(even, ownIm));
      firstRe = sub(mul(cosine, gRe), mul(sine, hIm));
      firstIm = add(mul(cosine, gIm), mul(sine, hRe));
      secondRe = sub(mul(cosine, hRe), mul(sine, gIm));
      secondIm = add(mul(cosine, hIm), mul(sine, gRe));
    }
    reflectanceDerivative += lineBytes << 1;
    transmittanceDerivative += lineBytes << 1;
    if (amplitudeDerivative !== 0) amplitudeDerivative += lineBytes << 2;
  }
}
