import { describe, expect, it } from 'vitest';
import { canonicalJson } from '../../src/base/canonical-json.ts';

describe('canonical JSON', () => {
  it('writes the sample of RFC 8785, sec. 3.2.2, as its sec. 3.2.3 has it', () => {
    // A. Rundgren, B. Jordan, S. Erdtman, RFC 8785, JSON Canonicalization Scheme (2020); from memory.
    const sample = JSON.parse(String.raw`{
      "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
      "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
      "literals": [null, true, false]
    }`);
    expect(canonicalJson(sample)).toBe(
      String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`,
    );
  });

  it('sorts keys by their UTF-16 code units, those that look like numbers too', () => {
    // Keys and order of the same RFC's sec. 3.2.3 (from memory): a surrogate pair goes before U+FB33.
    const keys = ['\u20ac', '\r', '\ufb33', '1', '\ud83d\ude00', '\u0080', '\u00f6', '10', '9'];
    const text = canonicalJson(Object.fromEntries(keys.map((key) => [key, 0])));
    expect([...text.matchAll(/"((?:[^"\\]|\\.)+)":0/g)].map(([, key]) => JSON.parse(`"${key}"`))).toEqual([
      '\r',
      '1',
      '10',
      '9',
      '\u0080',
      '\u00f6',
      '\u20ac',
      '\ud83d\ude00',
      '\ufb33',
    ]);
  });

  it('leaves out what is undefined and keeps the order of lists', () => {
    expect(canonicalJson({ b: undefined, a: [2, 1, { d: 0, c: 'x' }] })).toBe('{"a":[2,1,{"c":"x","d":0}]}');
  });
});
