import { S_PER_MIN } from '../base/constants.ts';
import type { Random } from '../math/random.ts';
import type { RunNoise } from './run-noise.ts';

/**
 * What arrives on the lens, sample after sample: the set rate with its bias, the source's dying away, noise and spits.
 */
export class SourceRate {
  readonly #noise: RunNoise;
  readonly #kept: number;
  readonly #decay: number;
  readonly #spitNm: number;
  readonly #spitsPerSample: number;
  #random!: Random;
  #stepNm = 0;
  #decayed = 1;
  #state = 0;
  /** Samples until the next spit. */
  #untilSpit = 0;

  constructor(noise: RunNoise) {
    this.#noise = noise;
    // Nothing is kept where the time is 0: exp(-∞).
    this.#kept = Math.exp(-noise.sampleS / (noise.rateCorrelationS ?? 0));
    this.#decay = (1 - (noise.rateDecayPercentPerMin ?? 0) / 100) ** (noise.sampleS / S_PER_MIN);
    this.#spitNm = noise.spitNm ?? 0;
    this.#spitsPerSample = ((noise.spitsPerMin ?? 0) / S_PER_MIN) * noise.sampleS;
  }

  /** Starts a layer at its set rate, nm/s. */
  begin(rateNmPerS: number, random: Random): void {
    const { rateBiasPercent, sampleS } = this.#noise;
    this.#random = random;
    this.#stepNm = rateNmPerS * (1 + rateBiasPercent / 100) * sampleS;
    this.#decayed = 1;
    this.#state = this.#kept === 0 ? 0 : random.normal();
    this.#untilSpit = this.#drawSpit();
  }

  /** Writes the growth on the lens of each of the next `count` samples, nm. */
  take(growthNm: Float64Array, count: number): void {
    const random = this.#random;
    const sigma = this.#noise.rateNoisePercent / 100;
    const stepNm = this.#stepNm;
    if (sigma === 0) growthNm.fill(stepNm, 0, count);
    else if (this.#kept === 0)
      for (let i = 0; i < count; i++) growthNm[i] = stepNm * Math.max(0, 1 + sigma * random.normal());
    else this.#takeCorrelated(growthNm, count, sigma);
    if (this.#decay !== 1)
      for (let i = 0; i < count; i++) {
        growthNm[i]! *= this.#decayed;
        this.#decayed *= this.#decay;
      }
    this.#untilSpit -= count;
    while (this.#untilSpit < 0) {
      growthNm[Math.min(count - 1, Math.floor(count + this.#untilSpit))]! += this.#spitNm;
      this.#untilSpit += this.#drawSpit();
    }
  }

  /** First-order noise: each sample keeps a share of the one before, and the variance stays. */
  #takeCorrelated(growthNm: Float64Array, count: number, sigma: number): void {
    const fresh = Math.sqrt(1 - this.#kept * this.#kept);
    for (let i = 0; i < count; i++) {
      this.#state = this.#kept * this.#state + fresh * this.#random.normal();
      growthNm[i] = this.#stepNm * Math.max(0, 1 + sigma * this.#state);
    }
  }

  /** Samples until the next spit: the exponential waiting time of a Poisson process. */
  #drawSpit(): number {
    if (this.#spitsPerSample === 0 || this.#spitNm === 0) return Number.POSITIVE_INFINITY;
    return -Math.log(1 - this.#random.uniform()) / this.#spitsPerSample;
  }
}
