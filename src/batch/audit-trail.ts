import * as v from 'valibot';
import { InputError } from '../base/errors.ts';
import { list, text } from '../base/schema.ts';

/** One thing that was done, never changed afterwards. `seal` ties it to all entries before it. */
export const auditEntry = v.strictObject({
  at: text(40, 'date and time, ISO 8601'),
  by: text(40, 'initials'),
  did: text(2000, 'what was done, in words'),
  seal: text(16),
});
export const auditTrail = list(auditEntry, { max: 100_000 }, 'appended to, never rewritten');

export type AuditEntry = v.InferOutput<typeof auditEntry>;

/**
 * The trail with one more entry. The entries before are taken over as they are.
 * @throws InputError where nothing is said, or the trail was tampered with.
 */
export function appendEntry(
  trail: readonly AuditEntry[],
  { at, by, did }: Omit<AuditEntry, 'seal'>,
): readonly AuditEntry[] {
  const fault = trailFault(trail);
  if (fault !== undefined) throw new InputError('trail', fault);
  if (did.trim() === '') throw new InputError('did', 'the entry says nothing');
  if (by.trim() === '') throw new InputError('by', "the entry lacks the person's initials");
  if (Number.isNaN(Date.parse(at))) throw new InputError('at', `"${at}" is no date and time`);
  return [...trail, { at, by, did, seal: sealOf(trail.at(-1)?.seal ?? '', at, by, did) }];
}

/**
 * What is wrong with a trail, or `undefined`. The seals show an entry that was changed, taken out or slipped in by
 * mistake or by hand; they are a checksum and no signature, and stop nobody who computes them anew.
 */
export function trailFault(trail: readonly AuditEntry[]): string | undefined {
  let before = '';
  for (const [i, { at, by, did, seal }] of trail.entries()) {
    if (seal !== sealOf(before, at, by, did))
      return `entry ${i + 1} or one before it was changed after it was made`;
    before = seal;
  }
  return undefined;
}

const PRIME = 0x100000001b3n;
const OFFSET = 0xcbf29ce484222325n;

/** FNV-1a of 64 bits (G. Fowler, L. C. Noll, K.-P. Vo; IETF draft) over the seal before and the entry. */
function sealOf(before: string, ...fields: readonly string[]): string {
  let hash = OFFSET;
  for (const byte of new TextEncoder().encode(JSON.stringify([before, ...fields])))
    hash = BigInt.asUintN(64, (hash ^ BigInt(byte)) * PRIME);
  return hash.toString(16).padStart(16, '0');
}
