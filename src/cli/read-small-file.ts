import { readFile, stat } from 'node:fs/promises';
import { InputError } from '../base/errors.ts';
import { LARGEST_FILE_BYTES, requireFileSize } from '../base/file-size.ts';

/**
 * The bytes of a file, looked at for its size before it is read.
 * @throws InputError naming the file where it is too large; Error with Node's `code` where it cannot be read.
 */
export async function readSmallFile(path: string): Promise<Uint8Array> {
  requireFileSize(path, (await stat(path)).size);
  return readFile(path);
}

/** @throws InputError once more bytes have come from standard input than a request may have. */
export function requireRequestSize(bytes: number): void {
  if (bytes > LARGEST_FILE_BYTES)
    throw new InputError('standard input', `the request has more than ${LARGEST_FILE_BYTES} bytes`);
}
