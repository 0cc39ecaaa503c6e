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
  #random!: Random;
  #stepNm = 0;
  #decayed = 1;
  #state = 0;
  #untilSpit = Number.POSITIVE_INFINITY;

  constructor(noise: RunNoise) {
    this.#noise = noise;
    const correlationS = noise.rateCorrelationS ?? 0;
    this.#kept = correlationS === 0 ? 0 : Math.exp(-noise.sampleS / correlationS);
    this.#decay = (1 - (noise.rateDecayPercentPerMin ?? 0) / 100) ** (noise.sampleS / S_PER_MIN);
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
      for (let i = 0; i < count; i++) {
        const factor = 1 + sigma * random.normal();
        growthNm[i] = factor > 0 ? stepNm * factor : 0;
      }
    else this.#takeCorrelated(growthNm, count, sigma);
    if (this.#decay !== 1)
      for (let i = 0; i < count; i++) {
        growthNm[i]! *= this.#decayed;
        this.#decayed *= this.#decay;
      }
    this.#untilSpit -= count;
    while (this.#untilSpit <= 0) {
      growthNm[Math.min(count - 1, Math.max(0, Math.floor(count + this.#untilSpit)))]! +=
        this.#noise.spitNm ?? 0;
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
    const { spitsPerMin = 0, spitNm = 0, sampleS } = this.#noise;
    if (spitsPerMin === 0 || spitNm === 0) return Number.POSITIVE_INFINITY;
    return -Math.log(1 - this.#random.uniform()) / ((spitsPerMin / S_PER_MIN) * sampleS);
  }
}
