import * as v from 'valibot';
import { InputError } from '../base/errors.ts';
import { count, list, text } from '../base/schema.ts';

/** Longest entry. */
const MOST_CHARACTERS = 2000;

/** One thing that was done, never changed afterwards. `seal` ties it to all entries before it. */
export const auditEntry = v.strictObject({
  at: text(40, 'date and time, ISO 8601'),
  by: text(40, 'initials'),
  did: text(MOST_CHARACTERS, 'what was done, in words'),
  run: v.exactOptional(count({ min: 1, max: 1_000_000 }, 'number of the run that it is about')),
  seal: text(16),
});
export const auditTrail = list(auditEntry, { max: 100_000 }, 'appended to, never rewritten');

export type AuditEntry = v.InferOutput<typeof auditEntry>;

/**
 * The trail with one more entry. The entries before are taken over as they are, even where they do not hold: what is
 * added later cannot mend them, and `trailFault` goes on saying so.
 * @throws InputError where nothing is said, nobody says it, or the time is none.
 */
export function appendEntry(
  trail: readonly AuditEntry[],
  { at, by, did, run }: Omit<AuditEntry, 'seal'>,
): AuditEntry[] {
  if (did.trim() === '') throw new InputError('did', 'the entry says nothing');
  if (by.trim() === '') throw new InputError('by', "the entry lacks the person's initials");
  if (Number.isNaN(Date.parse(at))) throw new InputError('at', `"${at}" is no date and time`);
  const entry = { at, by, did: did.slice(0, MOST_CHARACTERS), ...(run === undefined ? {} : { run }) };
  return [...trail, { ...entry, seal: sealOf(trail.at(-1)?.seal ?? '', entry) }];
}

/**
 * What is wrong with a trail, or `undefined`. The seals show an entry that was changed, taken out or slipped in by
 * mistake or by hand; they are a checksum and no signature: they stop nobody who computes them anew, and entries cut
 * off at the end leave no mark.
 */
export function trailFault(trail: readonly AuditEntry[]): string | undefined {
  let before = '';
  for (const [i, { seal, ...entry }] of trail.entries()) {
    if (seal !== sealOf(before, entry))
      return `entry ${i + 1} was changed, or one before it taken out or slipped in, after it was made`;
    before = seal;
  }
  return undefined;
}

const PRIME = 0x100000001b3n;
const OFFSET = 0xcbf29ce484222325n;

/** FNV-1a of 64 bits (G. Fowler, L. C. Noll, K.-P. Vo; IETF draft) over the seal before and the entry. */
function sealOf(before: string, { at, by, did, run }: Omit<AuditEntry, 'seal'>): string {
  let hash = OFFSET;
  for (const byte of new TextEncoder().encode(JSON.stringify([before, at, by, did, run ?? 0])))
    hash = BigInt.asUintN(64, (hash ^ BigInt(byte)) * PRIME);
  return hash.toString(16).padStart(16, '0');
}
