import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/base/errors.ts';
import { Random, splitMix64 } from '../../src/math/random.ts';

/** The published recurrence of xoshiro128** 1.1, written with big integers: an independent second way. */
function* reference(state: bigint[]): Generator<number> {
  const mask = 0xffffffffn;
  const rotl = (value: bigint, by: bigint) => ((value << by) | (value >> (32n - by))) & mask;
  let [s0, s1, s2, s3] = state as [bigint, bigint, bigint, bigint];
  for (;;) {
    yield Number((rotl((s1 * 5n) & mask, 7n) * 9n) & mask);
    const t = (s1 << 9n) & mask;
    s2 ^= s0;
    s3 ^= s1;
    s1 ^= s2;
    s0 ^= s3;
    s2 ^= t;
    s3 = rotl(s3, 11n);
  }
}

describe('Random', () => {
  it('is seeded by SplitMix64 as published (first numbers for the seed 1234567, from memory)', () => {
    const golden = 0x9e3779b97f4a7c15n;
    const mask = 0xffffffffffffffffn;
    const drawn = [0n, 1n, 2n].map((step) => splitMix64((1234567n + step * golden) & mask));
    expect(drawn).toEqual([6457827717110365317n, 3203168211198807973n, 9817491932198370423n]);
  });

  it('follows the recurrence of xoshiro128**', () => {
    const first = splitMix64(42n);
    const second = splitMix64((42n + 0x9e3779b97f4a7c15n) & 0xffffffffffffffffn);
    const expected = reference([first & 0xffffffffn, first >> 32n, second & 0xffffffffn, second >> 32n]);
    const random = new Random(42);
    for (let i = 0; i < 1000; i++) expect(random.uint32()).toBe(expected.next().value);
  });

  it('repeats itself for the same seed and differs for another', () => {
    const draw = (seed: number) =>
      Array.from(
        { length: 8 },
        (
          (r) => () =>
            r.uniform()
        )(new Random(seed)),
      );
    expect(draw(7)).toEqual(draw(7));
    expect(draw(7)).not.toEqual(draw(8));
  });

  it('gives streams that depend on seed and index alone', () => {
    const fresh = new Random(3);
    const used = new Random(3);
    for (let i = 0; i < 10; i++) used.normal();
    expect(used.stream(5).uint32()).toBe(fresh.stream(5).uint32());
    const firsts = Array.from({ length: 2000 }, (_, index) => fresh.stream(index).uint32());
    expect(new Set(firsts).size).toBe(2000);
    const nested = [0, 1].flatMap((i) => [0, 1].map((j) => fresh.stream(i).stream(j).uint32()));
    expect(new Set(nested).size).toBe(4);
  });

  it('has streams that do not correlate', () => {
    const size = 20_000;
    const [one, two] = [new Random(1).stream(0), new Random(1).stream(1)];
    let sum = 0;
    for (let i = 0; i < size; i++) sum += one.normal() * two.normal();
    // The mean of products of independent standard normal deviates has sigma 1/sqrt(size); five sigma.
    expect(Math.abs(sum / size)).toBeLessThan(5 / Math.sqrt(size));
  });

  it('fills [0, 1) evenly', () => {
    const random = new Random(11);
    const bins = new Float64Array(64);
    const size = 640_000;
    for (let i = 0; i < size; i++) bins[Math.floor(random.uniform() * 64)]! += 1;
    const chiSquare = bins.reduce((sum, count) => sum + (count - size / 64) ** 2 / (size / 64), 0);
    // 63 degrees of freedom: mean 63, sigma sqrt(126) = 11.2; five sigma either way.
    expect(chiSquare).toBeGreaterThan(63 - 56);
    expect(chiSquare).toBeLessThan(63 + 56);
  });

  it('draws every whole number below a bound equally often', () => {
    const random = new Random(12);
    const bins = new Float64Array(7);
    for (let i = 0; i < 70_000; i++) bins[random.integer(7)]! += 1;
    for (const count of bins) expect(Math.abs(count - 10_000)).toBeLessThan(5 * Math.sqrt(10_000));
  });

  it('gives normal deviates with the moments and the tails of the normal distribution', () => {
    const random = new Random(13);
    const size = 1_000_000;
    const moments = [0, 0, 0, 0];
    let beyond2 = 0;
    let beyond35 = 0;
    for (let i = 0; i < size; i++) {
      const z = random.normal();
      for (let p = 0; p < 4; p++) moments[p]! += z ** (p + 1) / size;
      if (Math.abs(z) > 2) beyond2++;
      if (Math.abs(z) > 3.5) beyond35++;
    }
    // Variances of the sample moments: 1, 2, 15, 96 over the size; five sigma each.
    const sigma = (variance: number) => 5 * Math.sqrt(variance / size);
    expect(Math.abs(moments[0]!)).toBeLessThan(sigma(1));
    expect(Math.abs(moments[1]! - 1)).toBeLessThan(sigma(2));
    expect(Math.abs(moments[2]!)).toBeLessThan(sigma(15));
    expect(Math.abs(moments[3]! - 3)).toBeLessThan(sigma(96));
    // P(|z| > 2) = 0.0455003, P(|z| > 3.5) = 4.65258e-4 (any table of the normal distribution).
    expect(Math.abs(beyond2 / size - 0.0455003)).toBeLessThan(sigma(0.0434));
    expect(Math.abs(beyond35 / size - 4.65258e-4)).toBeLessThan(sigma(4.65e-4));
  });

  it('shuffles into every order equally often', () => {
    const random = new Random(14);
    const seen = new Map<string, number>();
    for (let i = 0; i < 12_000; i++) {
      const order = random.shuffle(['a', 'b', 'c']).join('');
      seen.set(order, (seen.get(order) ?? 0) + 1);
    }
    expect(seen.size).toBe(6);
    for (const count of seen.values()) expect(Math.abs(count - 2000)).toBeLessThan(5 * Math.sqrt(2000));
  });

  it('refuses a seed that is not a whole number from 0 on', () => {
    expect(() => new Random(-1)).toThrow(InputError);
    expect(() => new Random(Number.NaN)).toThrow('seed: NaN is not a finite number');
    expect(() => new Random(1.5)).toThrow('seed: 1.5 is not a whole number');
  });
});
