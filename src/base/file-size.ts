import { InputError } from './errors.ts';

/** The largest file or request that is read, in bytes: room for years of spectra, not for a hostile file. */
export const LARGEST_FILE_BYTES = 50_000_000;

/**
 * Refuses what is too large, so that it need not be held in memory first where its size is known beforehand.
 * @param place what the fault names: a file, or '' where that is plain.
 * @throws InputError above 50,000,000 bytes.
 */
export function requireFileSize(place: string, bytes: number): void {
  if (bytes > LARGEST_FILE_BYTES)
    throw new InputError(place, `the file has ${bytes} bytes, more than ${LARGEST_FILE_BYTES} bytes`);
}
