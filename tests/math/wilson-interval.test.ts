import { describe, expect, it } from 'vitest';
import { wilsonInterval } from '../../src/math/wilson-interval.ts';

describe('the score interval of a share', () => {
  it.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])('of %i in %i is the published one', (hits, trials, low, high) => {
    // R. G. Newcombe, Stat. Med. 17, 857-872 (1998), table I, score method without continuity correction (from memory).
    const interval = wilsonInterval(hits, trials);
    expect(interval[0]).toBeCloseTo(low, 4);
    expect(interval[1]).toBeCloseTo(high, 4);
  });

  it('reaches 1 exactly where all were met, and mirrors', () => {
    expect(wilsonInterval(20, 20)[1]).toBe(1);
    expect(wilsonInterval(20, 20)[0]).toBeCloseTo(1 - wilsonInterval(0, 20)[1], 14);
  });

  it('refuses more hits than trials', () => {
    expect(() => wilsonInterval(3, 2)).toThrow('hits: 3 is above 2');
  });
});
