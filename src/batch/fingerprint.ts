import type { Batch } from './document.ts';

/**
 * A short name of a batch's content (FNV-1a, 64 bit, of its JSON with sorted keys; Fowler, Noll & Vo): two
 * sheets with the same fingerprint were printed from the same inputs. The run log and its trail do not count. It tells
 * apart what was changed by mistake; it is no protection against forgery.
 */
export function fingerprintOf(batch: Batch): string {
  const { runs: _, trail: __, ...inputs } = batch;
  let hash = 0xcbf29ce484222325n;
  for (const byte of new TextEncoder().encode(sortedJson(inputs)))
    hash = BigInt.asUintN(64, (hash ^ BigInt(byte)) * 0x100000001b3n);
  return hash
    .toString(16)
    .padStart(16, '0')
    .replace(/(.{4})(?=.)/g, '$1-');
}

function sortedJson(value: unknown): string {
  return JSON.stringify(value, (_, part: unknown) => {
    if (typeof part !== 'object' || part === null || Array.isArray(part)) return part;
    return Object.fromEntries(Object.entries(part).sort(([first], [second]) => (first < second ? -1 : 1)));
  });
}
