import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { carryMaterials } from '../../src/batch/carry-materials.ts';
import type { Batch } from '../../src/batch/document.ts';
import { fingerprintOf, hashOf, shortFingerprint } from '../../src/batch/fingerprint.ts';
import { readBatch, writeBatch } from '../../src/batch/read-batch.ts';

const batch = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));
const fingerprint = fingerprintOf(batch);

/** The batch after an edit. */
function edited(edit: (draft: Batch) => void): Batch {
  const draft = structuredClone(batch);
  edit(draft);
  return draft;
}

describe('a hash', () => {
  it('is the SHA-256 that the system computes of the same text', () => {
    const text = '{"a":[1,"ä"],"b":0.1}';
    expect(hashOf({ b: 0.1, a: [1, 'ä'] })).toBe(createHash('sha256').update(text, 'utf8').digest('hex'));
  });
});

describe('the fingerprint', () => {
  it('has 64 hexadecimal digits, of which paper shows sixteen in groups of four', () => {
    expect(fingerprint).toMatch(/^[0-9a-f]{64}$/);
    expect(shortFingerprint(fingerprint).replaceAll('-', '')).toBe(fingerprint.slice(0, 16));
    expect(shortFingerprint(fingerprint)).toMatch(/^([0-9a-f]{4}-){3}[0-9a-f]{4}$/);
  });

  it.each<[string, (draft: Batch) => void]>([
    ['a thickness in its last digit', (draft) => (draft.surfaces.front.layers[0]!.thicknessNm += 1e-9)],
    ['a requirement', (draft) => draft.surfaces.front.requirements.pop()],
    ['the quantity', (draft) => (draft.order.quantity += 1)],
    ['the order of two layers', (draft) => draft.surfaces.front.layers.reverse()],
    ['the data of a material', (draft) => (carried(draft).rangeNm[1] += 0.1)],
  ])('changes with %s', (_, edit) => {
    expect(fingerprintOf(edited(edit))).not.toBe(fingerprint);
  });

  it('stays with the run log, the order of keys and a default that is left out', () => {
    const run = { id: 'r', number: 1, side: 'front' as const, startedAt: '', operator: '', spectra: [] };
    expect(fingerprintOf(edited((draft) => draft.runs.push(run)))).toBe(fingerprint);
    expect(fingerprintOf(Object.fromEntries(Object.entries(batch).reverse()) as Batch)).toBe(fingerprint);
    const { rejectReservePercent: _, ...order } = batch.order;
    const filled = { ...batch, order: { ...batch.order, rejectReservePercent: 0 } };
    expect(fingerprintOf({ ...batch, order } as Batch)).toBe(fingerprintOf(filled));
  });

  it('is the same on the screen and for the file that was exported from there', () => {
    const exported = readBatch(writeBatch(carryMaterials(batch)));
    expect(exported.materials.length).toBeGreaterThan(batch.materials.length);
    expect(fingerprintOf(exported)).toBe(fingerprint);
  });
});

/** The record of the first layer's material, carried inside the batch. */
function carried(draft: Batch): Batch['materials'][number] {
  draft.materials = structuredClone(carryMaterials(draft).materials);
  return draft.materials.find(({ id }) => id === draft.surfaces.front.layers[0]!.material)!;
}
