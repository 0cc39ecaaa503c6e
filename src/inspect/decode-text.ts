import { InputError } from '../base/errors.ts';
import { requireFileSize } from '../base/file-size.ts';

/** A text and the encoding that it was read in. */
export interface DecodedText {
  readonly text: string;
  readonly encoding: 'UTF-8' | 'UTF-16' | 'Windows-1252';
  /** Whether the encoding is a guess, because the bytes do not say. */
  readonly isGuess: boolean;
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
  const wide = utf16Order(bytes);
  if (wide !== undefined)
    return { text: decode(bytes, wide.label), encoding: 'UTF-16', isGuess: wide.isGuess };
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    refuseBinary(text);
    return { text, encoding: 'UTF-8', isGuess: false };
  } catch (error) {
    if (error instanceof InputError) throw error;
    const text = decode(bytes, 'windows-1252');
    refuseBinary(text);
    return { text, encoding: 'Windows-1252', isGuess: true };
  }
}

function decode(bytes: Uint8Array, label: string): string {
  const text = new TextDecoder(label).decode(bytes);
  refuseBinary(text);
  return text;
}

/** UTF-16 by its byte order mark, or by every other byte of plain text being 0. */
function utf16Order(bytes: Uint8Array): { label: string; isGuess: boolean } | undefined {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return { label: 'utf-16le', isGuess: false };
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return { label: 'utf-16be', isGuess: false };
  const seen = Math.min(bytes.length, 1000) & ~1;
  const zeros: [number, number] = [0, 0];
  for (let i = 0; i < seen; i++) if (bytes[i] === 0) zeros[i % 2 === 0 ? 0 : 1]++;
  const most = seen / 2;
  if (most > 4 && zeros[1] > 0.7 * most && zeros[0] === 0) return { label: 'utf-16le', isGuess: true };
  if (most > 4 && zeros[0] > 0.7 * most && zeros[1] === 0) return { label: 'utf-16be', isGuess: true };
  return undefined;
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
