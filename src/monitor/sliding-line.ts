import { assert } from '../base/assert.ts';

/**
 * The straight line of least squares through the latest `window` readings, kept up to date at a few operations
 * a reading. With readings y_0 (oldest) to y_{m-1}: slope = 12 (Σ i y_i - (m-1)/2 Σ y_i) / (m (m² - 1)) (textbook
 * relation), in units of the reading per sample.
 */
export class SlidingLine {
  readonly #kept: Float64Array;
  #window = 2;
  #place = 0;
  /** Σ y_i and Σ i y_i. */
  readonly #sums = new Float64Array(2);

  /** @param largestWindow most readings that a line may take, from 2. */
  constructor(largestWindow: number) {
    this.#kept = new Float64Array(largestWindow);
  }

  /** Forgets all readings and takes lines through `window` readings (from 2) from now on. */
  begin(window: number): void {
    assert(
      window >= 2 && window <= this.#kept.length,
      'a line goes through 2 to the largest window of readings',
    );
    this.#window = window;
    this.#place = 0;
    this.#kept.fill(0, 0, window);
    this.#sums.fill(0);
  }

  /**
   * Takes `count` readings and writes, after each, the line's slope (per sample) and its mean (the line at
   * the middle of the window, (window - 1) / 2 samples ago). Readings before the first count as zero: the line means
   * something from reading number `window` on. The outputs may not be the input.
   */
  take(readings: Float64Array, count: number, slope: Float64Array, mean: Float64Array): void {
    const kept = this.#kept;
    const window = this.#window;
    const newest = window - 1;
    const half = newest / 2;
    const toMean = 1 / window;
    const toSlope = 12 / (window * (window * window - 1));
    let place = this.#place;
    let sum = this.#sums[0]!;
    let moment = this.#sums[1]!;
    for (let i = 0; i < count; i++) {
      const reading = readings[i]!;
      const oldest = kept[place]!;
      kept[place] = reading;
      place = place === newest ? 0 : place + 1;
      moment += newest * reading - (sum - oldest);
      sum += reading - oldest;
      slope[i] = toSlope * (moment - half * sum);
      mean[i] = toMean * sum;
    }
    this.#place = place;
    this.#sums[0] = sum;
    this.#sums[1] = moment;
  }
}
