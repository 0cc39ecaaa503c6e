import { InputError, requireWithin } from '../base/errors.ts';
import { normalDeviate } from './ziggurat.ts';

const GOLDEN = 0x9e3779b97f4a7c15n;
const MASK = 0xffffffffffffffffn;

/**
 * A seeded source of random numbers: xoshiro128** 1.1 (D. Blackman & S. Vigna, "Scrambled linear
 * pseudorandom number generators", ACM Trans. Math. Softw. 47, 36, 2021; period 2^128 - 1), its state
 * filled by SplitMix64 (G. Steele, D. Lea, C. Flood, OOPSLA 2014). The same seed gives the same numbers
 * on every machine.
 *
 * Work that is spread over threads takes `stream(index)` for each job: the numbers of a job then depend
 * on the seed and the job's index alone, never on which thread ran it or when.
 */
export class Random {
  readonly #key: bigint;
  #a: number;
  #b: number;
  #c: number;
  #d: number;

  /** @param seed whole number from 0 to 2^53 - 1. @throws InputError for another one. */
  constructor(seed: number, key = seedKey(seed)) {
    this.#key = key;
    const first = splitMix64(key);
    const second = splitMix64((key + GOLDEN) & MASK);
    this.#a = Number(first & 0xffffffffn) | 0;
    this.#b = Number(first >> 32n) | 0;
    this.#c = Number(second & 0xffffffffn) | 0;
    this.#d = Number(second >> 32n) | 0;
  }

  /**
   * An independent source for job number `index` (whole, from 0), whatever was drawn from this one before.
   * Streams of streams are independent too.
   */
  stream(index: number): Random {
    requireWhole('stream', index);
    const key = splitMix64((this.#key ^ splitMix64(BigInt(index) + 0x5851f42d4c957f2dn)) & MASK);
    return new Random(0, key);
  }

  /** A whole number from 0 to 2^32 - 1, all equally likely. */
  uint32(): number {
    const b = this.#b;
    const scrambled = Math.imul(b, 5);
    const result = Math.imul((scrambled << 7) | (scrambled >>> 25), 9) >>> 0;
    this.#c ^= this.#a;
    this.#d ^= b;
    this.#b = b ^ this.#c;
    this.#a ^= this.#d;
    this.#c ^= b << 9;
    this.#d = (this.#d << 11) | (this.#d >>> 21);
    return result;
  }

  /** Evenly spread over [0, 1), 53 bits. */
  uniform(): number {
    const high = this.uint32() >>> 5;
    const low = this.uint32() >>> 6;
    return (high * 67_108_864 + low) / 9_007_199_254_740_992;
  }

  /** A whole number from 0 to count - 1 (count from 1 to 2^32), all equally likely: no bias by the remainder. */
  integer(count: number): number {
    requireWithin('count', count, '', { min: 1, max: 4_294_967_296 });
    const limit = 4_294_967_296 - (4_294_967_296 % count);
    for (;;) {
      const drawn = this.uint32();
      if (drawn < limit) return drawn % count;
    }
  }

  /** A standard normal deviate (mean 0, variance 1). */
  normal(): number {
    return normalDeviate(this);
  }

  /** Puts the entries of `list` into a random order, in place (Fisher-Yates), and returns it. */
  shuffle<T>(list: T[]): T[] {
    for (let last = list.length - 1; last > 0; last--) {
      const other = this.integer(last + 1);
      const kept = list[last] as T;
      list[last] = list[other] as T;
      list[other] = kept;
    }
    return list;
  }
}

function seedKey(seed: number): bigint {
  requireWhole('seed', seed);
  return BigInt(seed);
}

function requireWhole(path: string, value: number): void {
  requireWithin(path, value, '', { min: 0, max: Number.MAX_SAFE_INTEGER });
  if (!Number.isInteger(value)) throw new InputError(path, `${value} is not a whole number`);
}

/** The SplitMix64 generator's output for a state of 64 bits: what its first step from there gives. */
export function splitMix64(state: bigint): bigint {
  let z = (state + GOLDEN) & MASK;
  z = ((z ^ (z >> 30n)) * 0xbf58476d1ce4e5b9n) & MASK;
  z = ((z ^ (z >> 27n)) * 0x94d049bb133111ebn) & MASK;
  return z ^ (z >> 31n);
}
