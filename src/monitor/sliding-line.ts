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
  #count = 0;
  #sum = 0;
  #moment = 0;
  #slopeFactor = 0;

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
    this.#count = 0;
    this.#sum = 0;
    this.#moment = 0;
    this.#slopeFactor = 12 / (window * (window * window - 1));
  }

  /** Takes a reading; returns whether there are enough for a line. */
  push(reading: number): boolean {
    const window = this.#window;
    const place = this.#place;
    if (this.#count < window) {
      this.#moment += this.#count * reading;
      this.#sum += reading;
      this.#count++;
    } else {
      const oldest = this.#kept[place]!;
      this.#moment += (window - 1) * reading - (this.#sum - oldest);
      this.#sum += reading - oldest;
    }
    this.#kept[place] = reading;
    this.#place = place + 1 === window ? 0 : place + 1;
    return this.#count === window;
  }

  /** Slope, per sample. */
  get slope(): number {
    return this.#slopeFactor * (this.#moment - ((this.#window - 1) / 2) * this.#sum);
  }

  /** Mean of the readings: the line at the middle of the window, (window - 1) / 2 samples ago. */
  get mean(): number {
    return this.#sum / this.#window;
  }

  /** The line at the latest reading. */
  get end(): number {
    return this.mean + this.slope * ((this.#window - 1) / 2);
  }
}
