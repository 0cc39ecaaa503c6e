import { WALK, type WitnessLight } from './witness-light.ts';

/** Beyond this phase a step's sine and cosine come from the library, below it from a short series. */
const SMALL_PHASE = 0.05;

/**
 * The same signal as `WitnessLight.level`, followed in small steps of the growing film without a sine, cosine or
 * exponential a step: the phase factor e = exp(-2iκd) is turned by each step's own small angle x, with
 * sin x and cos x from their series up to x⁷ and x⁶ (relative error below 1e-15 for |x| < 0.05).
 *
 * Layout of a channel: [0, 1] e, [2] |e|, [3, 4] phase and decay per nm, [5, 6] q, [7, 8] rL, [9] |v| Re η/|η|, [10, 11] w,
 * [12, 13] r'L, [14] reflectance of the back with both passes of the glass, [15] transmittance of glass and
 * back, [16] weight; letters as in WitnessLight.
 */
export class LightWalk {
  readonly #light: WitnessLight;
  readonly #state: Float64Array;

  constructor(light: WitnessLight) {
    this.#light = light;
    this.#state = new Float64Array(WALK * light.channelCount);
  }

  /** Starts a new film on what lies below; `thicknessNm` as `WitnessLight.begin` takes it. */
  begin(thicknessNm: ArrayLike<number>): void {
    this.#light.begin(thicknessNm);
    this.#light.writeWalk(this.#state);
  }

  /** Grows the film by `stepNm` (on the witness) and returns the signal, 0..1. */
  advance(stepNm: number): number {
    const s = this.#state;
    const { transmitted } = this.#light;
    let sum = 0;
    for (let o = 0; o < s.length; o += WALK) {
      const x = s[o + 3]! * stepNm;
      let sin: number;
      let cos: number;
      if (x < SMALL_PHASE && x > -SMALL_PHASE) {
        const xx = x * x;
        sin = x * (1 + xx * (-1 / 6 + xx * (1 / 120 - xx / 5040)));
        cos = 1 + xx * (-1 / 2 + xx * (1 / 24 - xx / 720));
      } else {
        sin = Math.sin(x);
        cos = Math.cos(x);
      }
      let eRe = s[o]! * cos - s[o + 1]! * sin;
      let eIm = s[o]! * sin + s[o + 1]! * cos;
      if (s[o + 4]! !== 0) {
        const decay = Math.exp(s[o + 4]! * stepNm);
        eRe *= decay;
        eIm *= decay;
        s[o + 2]! *= decay;
      }
      s[o] = eRe;
      s[o + 1] = eIm;
      const qRe = s[o + 5]!;
      const qIm = s[o + 6]!;
      const lRe = s[o + 7]! * eRe - s[o + 8]! * eIm;
      const lIm = s[o + 7]! * eIm + s[o + 8]! * eRe;
      const mRe = 1 + qRe * lRe - qIm * lIm;
      const mIm = qRe * lIm + qIm * lRe;
      const inverse = 1 / (mRe * mRe + mIm * mIm);
      const rRe = qRe + lRe;
      const rIm = qIm + lIm;
      const front = (rRe * rRe + rIm * rIm) * inverse;
      const through = s[o + 9]! * s[o + 2]! * inverse;
      const back = s[o + 14]!;
      let signal = transmitted ? through * s[o + 15]! : front;
      if (back !== 0) {
        // w e / m, for r' = r'L - w e / m
        const weRe = s[o + 10]! * eRe - s[o + 11]! * eIm;
        const weIm = s[o + 10]! * eIm + s[o + 11]! * eRe;
        const insideRe = s[o + 12]! - (weRe * mRe + weIm * mIm) * inverse;
        const insideIm = s[o + 13]! - (weIm * mRe - weRe * mIm) * inverse;
        const passes = 1 / (1 - (insideRe * insideRe + insideIm * insideIm) * back);
        signal = transmitted ? signal * passes : signal + through * through * back * passes;
      }
      sum += s[o + 16]! * signal;
    }
    return sum;
  }
}
