import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { canonicalJson } from '../base/canonical-json.ts';
import { parse } from '../base/schema.ts';
import { findMaterial } from '../materials/library.ts';
import { usedMaterials } from './carry-materials.ts';
import { type Batch, batch as schema } from './document.ts';

/** How many digits of the hash stand on paper, in groups of four. */
const PRINTED_DIGITS = 16;

/**
 * The name of everything that a plan is computed from: SHA-256 (FIPS 180-4) of the batch's canonical JSON (RFC 8785), 64
 * hexadecimal digits. It holds the data of the materials that the batch uses, whether they stand in its file or in the
 * library, so that an exported file has the fingerprint of the screen it came from. The run log, its trail and the
 * shop's name do not count: nothing is computed from them. The same fingerprint and the same version of the program give the same figures.
 */
export function fingerprintOf(batch: Batch): string {
  const { runs: _, trail: __, shop: ___, ...inputs } = batch;
  const materials = usedMaterials(batch)
    .flatMap((id) => findMaterial(id, batch.materials) ?? [])
    .sort((one, other) => (one.id < other.id ? -1 : 1));
  // Read as its file would be, so that a default that was filled in and one that was left out are the same.
  return hashOf(parse(schema, { ...inputs, materials }));
}

/** SHA-256 of a value's canonical JSON. */
export function hashOf(value: unknown): string {
  return bytesToHex(sha256(utf8ToBytes(canonicalJson(value))));
}

/** The first digits of a fingerprint as paper has them: "3f2a-90c1-77de-0b45". */
export function shortFingerprint(fingerprint: string): string {
  return fingerprint.slice(0, PRINTED_DIGITS).replace(/(.{4})(?=.)/g, '$1-');
}
