import { describe, expect, it } from 'vitest';
import { complexText, indexText, parseComplex, parseComplexIndex } from '../../src/base/complex-text.ts';

describe('a complex number as text', () => {
  it.each([
    ['1.38-0.01i', 1.38, 0.01],
    ['1.38', 1.38, 0],
    [' 0.06 − 3.6i ', 0.06, 3.6],
    ['2.3e0-1e-5i', 2.3, 1e-5],
    ['-i', 0, 1],
  ])('is read as an index: %s', (text, n, k) => {
    expect(parseComplexIndex(text)).toEqual({ n, k });
  });

  it('is written so that it reads back the same', () => {
    for (const [re, im] of [
      [1.38, -0.01],
      [0.1, 1e-7],
      [-3, 2],
      [2, 0],
    ] as const) {
      const back = parseComplex(complexText({ re, im }));
      expect([back.re, back.im]).toEqual([re, im]);
    }
    expect(indexText(1.38, 0.01)).toBe('1.38-0.01i');
    expect(indexText(1.52, 0)).toBe('1.52');
  });

  it.each([
    ['glass', '"glass" is not a complex number such as "1.38-0.01i"'],
    ['', '"" is not a complex number such as "1.38-0.01i"'],
    ['1.38+0.01i', '"1.38+0.01i" has k = -0.01, which is below 0; an absorbing index is written n-ki'],
    ['-1.38', '"-1.38" has n = -1.38, which is below 0'],
  ])('is refused in one sentence: %s', (text, message) => {
    expect(() => parseComplexIndex(text, 'layers[0].material')).toThrow(`layers[0].material: ${message}`);
  });
});
