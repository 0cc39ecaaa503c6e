import { describe, expect, it } from 'vitest';
import { correctBaseline } from '../../src/inspect/correct-baseline.ts';
import { startingWith } from '../support/refusals.ts';

const nm = Float64Array.of(400, 500, 600);
const line = (name: string, values: number[], wavelengthNm = [400, 500, 600]) => ({
  name,
  wavelengthNm,
  values,
});

describe('the scale of a reference', () => {
  it('gives back what a crooked instrument was shown', () => {
    const truth = Float64Array.of(0.004, 0.002, 0.011);
    const zero = [0.001, 0.0015, 0.002];
    const mirror = [0.97, 0.98, 0.985];
    const gain = [0.95, 1.02, 0.99];
    const shown = (fraction: ArrayLike<number>) =>
      Array.from(fraction, (value, w) => zero[w]! + gain[w]! * value);
    const baseline = {
      zero: line('dark.csv', zero),
      full: line('mirror.csv', shown(mirror)),
      reference: line('certificate.csv', mirror),
    };
    correctBaseline(nm, Float64Array.from(shown(truth)), baseline).forEach((value, w) => {
      expect(value).toBeCloseTo(truth[w]!, 14);
    });
  });

  it('leaves readings alone where nothing is given, and scales them by one number', () => {
    const values = Float64Array.of(0.1, 0.2, 0.3);
    expect(correctBaseline(nm, values, {})).toEqual(values);
    expect([...correctBaseline(nm, values, { reference: 0.5 })]).toEqual([0.05, 0.1, 0.15]);
  });

  it('interpolates a line between its points', () => {
    const full = line('line.csv', [0.8, 1.2], [400, 600]);
    expect([...correctBaseline(nm, Float64Array.of(0.8, 1, 1.2), { full })]).toEqual([1, 1, 1]);
  });

  it.each([
    [
      { full: line('short.csv', [1, 1], [450, 600]) },
      'baseline: short.csv covers 450 to 600 nm, and the spectrum needs 400 to 600 nm',
    ],
    [{ full: line('short.csv', [1, 1, 1], [400, 500, 599]) }, 'baseline: short.csv covers 400 to 599 nm'],
    [{ reference: line('short.csv', [1, 1], [400, 599]) }, 'baseline: short.csv covers 400 to 599 nm'],
    [
      { zero: line('dark.csv', [0, 0.999, 0]) },
      'baseline: at 500 nm the 100 % line lies 0.10 % above the 0 % line; it must be at least 0.5 %',
    ],
  ])('is refused with one sentence (%#)', (baseline, fault) => {
    expect(() => correctBaseline(nm, Float64Array.of(0.1, 0.1, 0.1), baseline)).toThrow(startingWith(fault));
  });

  it('takes a span of half a per cent and covers the ends exactly', () => {
    const full = line('weak.csv', [0.005, 0.005, 0.005]);
    expect([...correctBaseline(nm, Float64Array.of(0.005, 0.0025, 0), { full })]).toEqual([1, 0.5, 0]);
    const [odd, level] = [Float64Array.of(400, 500.1234, 600), Float64Array.of(1, 1, 1)];
    const dark = line('dark.csv', [0.2, 0.996, 0.2], [400, 500.1234, 600]);
    expect(() => correctBaseline(odd, level, { zero: dark })).toThrow(
      startingWith('baseline: at 500.12 nm the 100 % line lies 0.40 % above the 0 % line'),
    );
    const one = { full: line('one.csv', [1], [400]) };
    expect(() => correctBaseline(Float64Array.of(400), Float64Array.of(1), one)).toThrow('one.csv covers');
  });
});
