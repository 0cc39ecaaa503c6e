import { describe, expect, it } from 'vitest';
import { jsonFault } from '../../src/base/json-fault.ts';

describe('the fault in a text that is not JSON', () => {
  it.each([
    ['{"a":NaN}', '"N" is out of place (line 1, column 6)'],
    ['{"a":1,\n}', '"}" is out of place (line 2, column 1)'],
    ['{"a" 1}', '"1" is out of place (line 1, column 6)'],
    ['{a:1}', '"a" is out of place (line 1, column 2)'],
    ['[1 2]', '"2" is out of place (line 1, column 4)'],
    ['[1,]', '"]" is out of place (line 1, column 4)'],
    ['[1}', '"}" is out of place (line 1, column 3)'],
    ['[01]', '"1" is out of place (line 1, column 3)'],
    ['["a\nb"]', 'this text in quotes is out of place (line 1, column 2)'],
    ['{} {}', '"{" is out of place (line 1, column 4)'],
    ['[[1], {"a": [', 'it ends too early (line 1, column 14)'],
    ['{"a":', 'it ends too early (line 1, column 6)'],
    ["{'a':1}", `"'" is out of place (line 1, column 2)`],
  ])('in %j is found where it is', (text, sentence) => {
    expect(() => JSON.parse(text)).toThrow(SyntaxError);
    expect(jsonFault(text)).toBe(sentence);
  });
});
