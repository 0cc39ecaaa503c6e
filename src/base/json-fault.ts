import { shown } from './schema.ts';

const SPACE = /[ \t\r\n]*/y;
// biome-ignore lint/suspicious/noControlCharactersInRegex: JSON forbids them in a string, tab and newline too
const STRING = /"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const PLAIN_VALUE = /true|false|null|-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;

type Expected = 'value' | 'value-or-end' | 'key' | 'key-or-end' | 'colon' | 'comma-or-end' | 'nothing';

/**
 * Where a text that `JSON.parse` refused stops being JSON (RFC 8259), in words with line and column. Engines
 * word this differently and often leave the place out.
 */
export function jsonFault(text: string): string {
  const at = faultPosition(text);
  const before = text.slice(0, at).split('\n');
  const place = `line ${before.length}, column ${(before.at(-1) ?? '').length + 1}`;
  if (at >= text.length) return `it ends too early (${place})`;
  const found = String.fromCodePoint(text.codePointAt(at) ?? 0);
  const what = found === '"' ? 'this text in quotes' : shown(found);
  return `${what} is out of place (${place})`;
}

/** The position of the first character that no JSON could have there; the length where more is missing. */
function faultPosition(text: string): number {
  const open: ('{' | '[')[] = [];
  let expected: Expected = 'value';
  let at = 0;
  const skip = (pattern: RegExp): boolean => {
    pattern.lastIndex = at;
    const isThere = pattern.test(text);
    if (isThere) at = pattern.lastIndex;
    return isThere;
  };
  const afterValue = (): Expected => (open.length === 0 ? 'nothing' : 'comma-or-end');

  for (;;) {
    skip(SPACE);
    const next = text[at];
    if (next === undefined || expected === 'nothing') return at;
    if (expected === 'key' || expected === 'key-or-end') {
      if (skip(STRING)) expected = 'colon';
      else if (expected === 'key-or-end' && next === '}') {
        open.pop();
        at += 1;
        expected = afterValue();
      } else return at;
    } else if (expected === 'colon') {
      if (next !== ':') return at;
      at += 1;
      expected = 'value';
    } else if (expected === 'comma-or-end') {
      const inObject = open.at(-1) === '{';
      if (next === ',') expected = inObject ? 'key' : 'value';
      else if (next === (inObject ? '}' : ']')) {
        open.pop();
        expected = afterValue();
      } else return at;
      at += 1;
    } else if (next === '{' || next === '[') {
      open.push(next);
      at += 1;
      expected = next === '{' ? 'key-or-end' : 'value-or-end';
    } else if (next === ']' && expected === 'value-or-end') {
      open.pop();
      at += 1;
      expected = afterValue();
    } else if (skip(STRING) || skip(PLAIN_VALUE)) expected = afterValue();
    else return at;
  }
}
