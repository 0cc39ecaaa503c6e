import type { Random } from '../../src/math/random.ts';
import { pick } from './mutate-json.ts';

/** Pieces that text formats give a meaning to. */
const PIECES = [
  ...[
    '\n',
    '\r\n',
    '\r',
    '\t',
    ';',
    ',',
    ' ',
    '|',
    '"',
    "'",
    '#',
    '$$',
    '##',
    '=',
    '(',
    ')',
    '{',
    '}',
    '[',
    ']',
  ],
  ...[
    'NaN',
    'Infinity',
    '1e999',
    '-',
    '+',
    '.',
    ',5',
    '1.2.3',
    '0x10',
    '١٢',
    '½',
    '−1',
    '\u0000',
    '\uFEFF',
    '\uFFFD',
  ],
  ...[
    'nm',
    'µm',
    'cm-1',
    '%',
    '%R',
    'A',
    '##XYDATA=(X++(Y..Y))',
    '##END=',
    '##NPOINTS=999999999',
    '##BLOCKS=9',
  ],
  ...[
    '['.repeat(50_000),
    '{"a":'.repeat(20_000),
    '@%ABCDE',
    's',
    '? : ',
    '&a',
    '*a',
    '!!js/function',
    '- type: formula 2',
    'coefficients: ',
  ],
];

const encoder = new TextEncoder();

/** A copy of `bytes` with one to six changes: bits turned, pieces put in, parts lost, doubled or of another file. */
export function mutateBytes(bytes: Uint8Array, other: Uint8Array, random: Random): Uint8Array {
  let result = bytes;
  const changes = 1 + Math.floor(6 * random.uniform() ** 2);
  for (let i = 0; i < changes; i++) result = changeOne(result, other, random);
  return result.slice(0, 400_000);
}

function changeOne(bytes: Uint8Array, other: Uint8Array, random: Random): Uint8Array {
  const at = random.integer(bytes.length + 1);
  const to = Math.min(bytes.length, at + Math.floor(random.uniform() ** 3 * 400));
  const [head, part, tail] = [bytes.slice(0, at), bytes.slice(at, to), bytes.slice(to)];
  return pick(
    [
      () => join(head, tail),
      () => head,
      () => join(head, encoder.encode(pick(PIECES, random)), bytes.slice(at)),
      () => join(head, part, part, tail),
      () => join(head, other.slice(random.integer(other.length + 1))),
      () => join(head, Uint8Array.of(random.integer(256)), bytes.slice(at + 1)),
      () =>
        join(
          Uint8Array.from(
            pick(
              [
                [0xff, 0xfe],
                [0xfe, 0xff],
                [0xef, 0xbb, 0xbf],
              ],
              random,
            ),
          ),
          bytes,
        ),
      () => Uint8Array.from(Buffer.from(Buffer.from(bytes).toString('utf8'), 'utf16le')),
    ],
    random,
  )();
}

/** Bytes without any meaning. */
export function randomBytes(random: Random): Uint8Array {
  return Uint8Array.from({ length: Math.floor(random.uniform() ** 2 * 4000) }, () => random.integer(256));
}

function join(...parts: readonly Uint8Array[]): Uint8Array {
  return Uint8Array.from(Buffer.concat(parts));
}
