import { describe, expect, it } from 'vitest';
import { Random } from '../../src/math/random.ts';
import { SlidingLine } from '../../src/monitor/sliding-line.ts';

function takeAll(readings: readonly number[], window: number, batch = readings.length) {
  const line = new SlidingLine(256);
  line.begin(window);
  const slope: number[] = [];
  const mean: number[] = [];
  for (let from = 0; from < readings.length; from += batch) {
    const part = Float64Array.from(readings.slice(from, from + batch));
    const out = [new Float64Array(part.length), new Float64Array(part.length)] as const;
    line.take(part, part.length, out[0], out[1]);
    slope.push(...out[0]);
    mean.push(...out[1]);
  }
  return { slope, mean };
}

describe('the sliding line of least squares', () => {
  it('is the line itself on a line', () => {
    const readings = Array.from({ length: 500 }, (_, i) => 3 + 0.25 * i);
    const { slope, mean } = takeAll(readings, 17);
    for (let i = 16; i < 500; i++) {
      expect(slope[i]).toBeCloseTo(0.25, 10);
      expect(mean[i]).toBeCloseTo(3 + 0.25 * (i - 8), 10);
    }
  });

  it.each([2, 3, 8, 256])('is the line that the normal equations give, through %i readings', (window) => {
    const random = new Random(window);
    const readings = Array.from({ length: window + 40 }, () => random.normal());
    const { slope, mean } = takeAll(readings, window);
    for (let end = window - 1; end < readings.length; end++) {
      const own = readings.slice(end - window + 1, end + 1);
      const middle = own.reduce((sum, value) => sum + value, 0) / window;
      const off = (i: number) => i - (window - 1) / 2;
      // Slope = Σ (i - mean of i) y / Σ (i - mean of i)² (textbook relation).
      const above = own.reduce((sum, value, i) => sum + off(i) * value, 0);
      const below = own.reduce((sum, _, i) => sum + off(i) ** 2, 0);
      expect(mean[end]).toBeCloseTo(middle, 12);
      expect(slope[end]).toBeCloseTo(above / below, 12);
    }
  });

  it('counts readings before the first as zero, and forgets all when it begins anew', () => {
    const line = new SlidingLine(3);
    const [slope, mean] = [new Float64Array(2), new Float64Array(2)];
    for (const window of [2, 3, 2]) {
      line.begin(window);
      line.take(Float64Array.of(6, 12), 2, slope, mean);
      expect(mean[0]).toBeCloseTo(6 / window, 14);
      expect(slope[0]).toBeCloseTo(window === 2 ? 6 : 3, 14);
      expect(mean[1]).toBeCloseTo(18 / window, 14);
      expect(slope[1]).toBeCloseTo(6, 14);
    }
  });

  it.each([1, 4])('does not go through %i readings of at most three', (window) => {
    const begin = () => new SlidingLine(3).begin(window);
    expect(begin).toThrow('a line goes through 2 to the largest window of readings');
  });

  it('is the same for any batches', () => {
    const readings = Array.from({ length: 200 }, (_, i) => Math.sin(i / 9));
    expect(takeAll(readings, 12, 7)).toEqual(takeAll(readings, 12));
  });

  it('finds the turn of a parabola in white noise as late and as scattered as theory says', () => {
    // Regression line (textbook): the slope's variance is 12 s² / (m (m² - 1)); its zero comes (m - 1) / 2 samples after
    // the turn, with a standard deviation of that slope's over the bend.
    const random = new Random(7);
    const [window, bend, sigma, turn, trials] = [41, 2e-4, 2e-3, 300, 2000];
    const slopeSigma = sigma * Math.sqrt(12 / (window * (window ** 2 - 1)));
    const expectedScatter = slopeSigma / bend;
    const found: number[] = [];
    for (let trial = 0; trial < trials; trial++) {
      const readings = Array.from(
        { length: 450 },
        (_, i) => 0.3 - (bend / 2) * (i - turn) ** 2 + sigma * random.normal(),
      );
      const { slope } = takeAll(readings, window);
      const at = slope.findIndex((value, i) => i > 260 && value <= 0);
      // Where the falling slope crosses zero, interpolated.
      found.push(at - slope[at]! / (slope[at]! - slope[at - 1]!));
    }
    const mean = found.reduce((a, b) => a + b, 0) / trials;
    const scatter = Math.sqrt(found.reduce((a, b) => a + (b - mean) ** 2, 0) / (trials - 1));
    const delay = mean - turn;
    // The scatter's own relative error is 1 / sqrt(2 trials) = 1.6 %; four of them, and a little for first crossings.
    expect(Math.abs(scatter / expectedScatter - 1)).toBeLessThan(0.08);
    expect(Math.abs(delay - (window - 1) / 2)).toBeLessThan(4 * (expectedScatter / Math.sqrt(trials)) + 0.1);
  });
});
