import { WALK, type WitnessLight } from './witness-light.ts';

/** Beyond this phase a step's sine and cosine come from the library, below it from a short series. */
const SMALL_PHASE = 0.05;
/** Steps of all channels that are summed at once. */
const PART = 64;

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
  readonly #one = new Float64Array(1);
  readonly #part = new Float64Array(PART);
  readonly #sum = new Float64Array(PART);

  /** The part of the growing film that is walked through, and how far, nm on the witness. */
  #inPart = 0;
  #inPartNm = 0;

  constructor(light: WitnessLight) {
    this.#light = light;
    this.#state = new Float64Array(WALK * light.channelCount);
  }

  /** Starts a new film on what lies below; `thicknessNm` as `WitnessLight.begin` takes it. */
  begin(thicknessNm: ArrayLike<number>): void {
    this.#light.begin(thicknessNm);
    this.#enterPart(0);
  }

  #enterPart(part: number): void {
    this.#inPart = part;
    this.#inPartNm = 0;
    this.#light.writeWalk(part, this.#state);
  }

  /** Grows the film by `stepNm` (on the witness) and returns the signal, 0..1. */
  advance(stepNm: number): number {
    this.#one[0] = stepNm;
    this.take(this.#one, 1, 1, this.#one);
    return this.#one[0]!;
  }

  /**
   * Grows the film by `factor` times each of `count` steps, nm, and writes the signal after each. `levels` may be
   * `steps`.
   */
  take(steps: Float64Array, factor: number, count: number, levels: Float64Array): void {
    if (this.#light.partCount === 1) this.#takeInPart(steps, factor, count, levels);
    else this.#takeThroughParts(steps, factor, count, levels);
  }

  /** Through a graded film: a step that ends in another part is taken from that part's beginning on. */
  #takeThroughParts(steps: Float64Array, factor: number, count: number, levels: Float64Array): void {
    const { partCount, partNm } = this.#light;
    for (let i = 0; i < count; i++) {
      let stepNm = factor * steps[i]!;
      while (this.#inPartNm + stepNm > partNm && this.#inPart < partCount - 1) {
        stepNm -= partNm - this.#inPartNm;
        this.#enterPart(this.#inPart + 1);
      }
      this.#inPartNm += stepNm;
      this.#one[0] = stepNm;
      this.#takeInPart(this.#one, 1, 1, this.#one);
      levels[i] = this.#one[0]!;
    }
  }

  #takeInPart(steps: Float64Array, factor: number, count: number, levels: Float64Array): void {
    if (this.#state.length === WALK) {
      this.#takeChannel(0, steps, factor, count, levels);
      return;
    }
    const sum = this.#sum;
    const part = this.#part;
    for (let from = 0; from < count; from += PART) {
      const here = Math.min(PART, count - from);
      const own = steps.subarray(from, from + here);
      sum.fill(0, 0, here);
      for (let o = 0; o < this.#state.length; o += WALK) {
        this.#takeChannel(o, own, factor, here, part);
        for (let i = 0; i < here; i++) sum[i]! += part[i]!;
      }
      for (let i = 0; i < here; i++) levels[from + i] = sum[i]!;
    }
  }

  #takeChannel(o: number, steps: Float64Array, factor: number, count: number, levels: Float64Array): void {
    const s = this.#state;
    const { transmitted } = this.#light;
    const phasePerNm = s[o + 3]! * factor;
    const decayPerNm = s[o + 4]! * factor;
    const qRe = s[o + 5]!;
    const qIm = s[o + 6]!;
    const belowRe = s[o + 7]!;
    const belowIm = s[o + 8]!;
    const size = s[o + 9]!;
    const back = s[o + 14]!;
    const outwards = s[o + 15]!;
    const weight = s[o + 16]!;
    let eRe = s[o]!;
    let eIm = s[o + 1]!;
    let shrunk = s[o + 2]!;
    for (let i = 0; i < count; i++) {
      const x = phasePerNm * steps[i]!;
      const xx = x * x;
      let sin = x * (1 + xx * (-1 / 6 + xx * (1 / 120 - xx / 5040)));
      let cos = 1 + xx * (-1 / 2 + xx * (1 / 24 - xx / 720));
      if (xx > SMALL_PHASE * SMALL_PHASE) {
        sin = Math.sin(x);
        cos = Math.cos(x);
      }
      const turned = eRe * cos - eIm * sin;
      eIm = eRe * sin + eIm * cos;
      eRe = turned;
      if (decayPerNm !== 0) {
        const decay = Math.exp(decayPerNm * steps[i]!);
        eRe *= decay;
        eIm *= decay;
        shrunk *= decay;
      }
      const lRe = belowRe * eRe - belowIm * eIm;
      const lIm = belowRe * eIm + belowIm * eRe;
      const mRe = 1 + qRe * lRe - qIm * lIm;
      const mIm = qRe * lIm + qIm * lRe;
      const inverse = 1 / (mRe * mRe + mIm * mIm);
      const rRe = qRe + lRe;
      const rIm = qIm + lIm;
      const through = size * shrunk * inverse;
      let signal = transmitted ? through * outwards : (rRe * rRe + rIm * rIm) * inverse;
      if (back !== 0) {
        // w e / m, for r' = r'L - w e / m
        const weRe = s[o + 10]! * eRe - s[o + 11]! * eIm;
        const weIm = s[o + 10]! * eIm + s[o + 11]! * eRe;
        const insideRe = s[o + 12]! - (weRe * mRe + weIm * mIm) * inverse;
        const insideIm = s[o + 13]! - (weIm * mRe - weRe * mIm) * inverse;
        const passes = 1 / (1 - (insideRe * insideRe + insideIm * insideIm) * back);
        signal = transmitted ? signal * passes : signal + through * through * back * passes;
      }
      levels[i] = weight * signal;
    }
    s[o] = eRe;
    s[o + 1] = eIm;
    s[o + 2] = shrunk;
  }
}
