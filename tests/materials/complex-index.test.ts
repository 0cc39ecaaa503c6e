import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/base/errors.ts';
import { parse } from '../../src/base/schema.ts';
import { indexSpec, resolveIndex } from '../../src/materials/index-spec.ts';

const faultOf = (input: unknown): string => {
  try {
    parse(indexSpec, input);
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
  return 'no fault';
};

describe('an index written as a complex number', () => {
  it('is the same as its n and k', () => {
    const grid = Float64Array.of(400, 700);
    const written = resolveIndex(parse(indexSpec, '1.38-0.01i'), grid);
    const given = resolveIndex({ n: 1.38, k: 0.01 }, grid);
    expect([written.n, written.k]).toEqual([given.n, given.k]);
    expect(parse(indexSpec, '0.06 − 3.6i')).toEqual({ n: 0.06, k: 3.6 });
  });

  it('leaves ids alone, those of glasses and of silicon too', () => {
    expect([parse(indexSpec, 'si'), parse(indexSpec, '517642')]).toEqual(['si', '517642']);
  });

  it.each([
    ['1.38+0.01i', '"1.38+0.01i" has k = -0.01, which is below 0; an absorbing index is written n-ki'],
    ['-1-2i', '"-1-2i" has n = -1, which is below 0'],
    ['1.3.8-i', '"1.3.8-i" is not a complex number such as "1.38-0.01i"'],
    ['0-2i', '"0-2i" has n = 0, which is not above 0 and up to 1000'],
  ])('%s is refused with one sentence', (written, sentence) => {
    expect(faultOf(written)).toBe(sentence);
  });
});
