import { describe, expect, it } from 'vitest';
import { answerJson } from '../../src/compute/answer-json.ts';

describe('an answer as JSON', () => {
  it('has typed arrays as lists, numbers in full precision and no absent fields', () => {
    const answer = { a: Float64Array.of(0.1 + 0.2, -0), b: { c: undefined, d: [true, 'x'] } };
    expect(answerJson(answer)).toBe('{"a":[0.30000000000000004,0],"b":{"d":[true,"x"]}}');
  });

  it.each([
    [{ a: [1, Number.NaN] }, 'the answer has NaN at a[1]'],
    [{ a: Float64Array.of(-1 / 0) }, 'the answer has -Infinity at a[0]'],
    [{ a: { b: null } }, 'the answer has null at a.b'],
    [{ a: [undefined] }, 'the answer has a value of type undefined at a[0]'],
    [{ a: () => 1 }, 'the answer has a value of type function at a'],
  ])('never holds what no answer may hold', (answer, fault) => {
    expect(() => answerJson(answer)).toThrow(fault);
  });
});
