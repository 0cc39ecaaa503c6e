import { InputError } from '../base/errors.ts';
import { requireFileSize } from '../base/file-size.ts';

/** A text and the encoding that it was read in. */
export interface DecodedText {
  readonly text: string;
  readonly encoding: 'UTF-8' | 'UTF-16' | 'Windows-1252';
}

/** What other files begin with, and what they are called. */
const OTHER_FILES: readonly (readonly [readonly number[], string])[] = [
  [[0xff, 0xd8, 0xff], 'a JPEG picture'],
  [[0x89, 0x50, 0x4e, 0x47], 'a PNG picture'],
  [[0x47, 0x49, 0x46, 0x38], 'a GIF picture'],
  [[0x49, 0x49, 0x2a, 0x00], 'a TIFF picture'],
  [[0x4d, 0x4d, 0x00, 0x2a], 'a TIFF picture'],
  [[0x52, 0x49, 0x46, 0x46], 'a picture or a sound'],
  [[0x25, 0x50, 0x44, 0x46], 'a PDF page'],
  [[0x50, 0x4b, 0x03, 0x04], 'a spreadsheet or another packed file'],
  [[0xd0, 0xcf, 0x11, 0xe0], 'an older office file'],
  [[0x1f, 0x8b], 'a packed file'],
];

/**
 * The text in the bytes of a file: UTF-8 and UTF-16 with or without a byte order mark, else Windows-1252 (which
 * covers the printable part of Latin-1).
 * @throws InputError where the file is empty, too large, or plainly no text.
 */
export function decodeText(bytes: Uint8Array): DecodedText {
  if (bytes.length === 0) throw new InputError('', 'the file is empty');
  requireFileSize('', bytes.length);
  const other = OTHER_FILES.find(([start]) => start.every((byte, i) => bytes[i] === byte));
  if (other !== undefined)
    throw new InputError(
      '',
      `this is ${other[1]}, not text; export the spectrum as text (columns) or JCAMP-DX`,
    );
  const decoded: DecodedText = utf16(bytes) ??
    utf8(bytes) ?? { text: new TextDecoder('windows-1252').decode(bytes), encoding: 'Windows-1252' };
  refuseBinary(decoded.text);
  return decoded;
}

function utf8(bytes: Uint8Array): DecodedText | undefined {
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes), encoding: 'UTF-8' };
  } catch {
    return undefined;
  }
}

function utf16(bytes: Uint8Array): DecodedText | undefined {
  const label = utf16Label(bytes);
  return label === undefined ? undefined : { text: new TextDecoder(label).decode(bytes), encoding: 'UTF-16' };
}

/** UTF-16 by its byte order mark, or by every other byte of plain text being 0. */
function utf16Label(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | undefined {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  const pairs = Math.floor(Math.min(bytes.length, 1000) / 2);
  if (pairs < 5) return undefined;
  let [first, second] = [0, 0];
  for (let pair = 0; pair < pairs; pair++) {
    if (bytes[2 * pair] === 0) first++;
    if (bytes[2 * pair + 1] === 0) second++;
  }
  if (second > 0.7 * pairs) return 'utf-16le';
  return first > 0.7 * pairs ? 'utf-16be' : undefined;
}

/** Text has hardly any control characters; a file of another kind is full of them. */
function refuseBinary(text: string): void {
  const seen = text.slice(0, 4000);
  let controls = 0;
  for (let i = 0; i < seen.length; i++) {
    const code = seen.charCodeAt(i);
    if ((code < 32 && code !== 9 && code !== 10 && code !== 12 && code !== 13) || code === 0xfffd) controls++;
  }
  if (controls > 0.02 * seen.length)
    throw new InputError('', 'the file is not text; export the spectrum as text (columns) or JCAMP-DX');
}
