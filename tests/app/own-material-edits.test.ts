import { describe, expect, it } from 'vitest';
import { checkEdit } from '../../src/app/check-edit.ts';
import { DocumentStore } from '../../src/app/document-store.ts';
import {
  freeMaterialId,
  isMissed,
  placesOf,
  putMaterial,
  removeMaterial,
} from '../../src/app/pages/materials/own-material-edits.ts';
import type { Batch } from '../../src/batch/document.ts';
import { newBatch } from '../../src/batch/new-batch.ts';
import { findMaterial } from '../../src/materials/library.ts';
import type { MaterialRecord } from '../../src/materials/record.ts';

const record: MaterialRecord = {
  ...(findMaterial('sio2') as MaterialRecord),
  id: 'our-silica',
  name: 'Our silica',
};

function desk() {
  const store = new DocumentStore<Batch>(newBatch('a'));
  store.edit(putMaterial(record), (after) => checkEdit(store.document, after));
  return store;
}

describe("the shop's own material", () => {
  it('is put into the batch, changed in its place and taken out, each as one named step', () => {
    const store = desk();
    store.edit(putMaterial({ ...record, name: 'Our silica, new' }));
    expect(store.document.materials.map(({ name }) => name)).toEqual(['Our silica, new']);
    store.edit(removeMaterial(record));
    expect(store.document.materials).toEqual([]);
    expect(store.past.map(({ name }) => name)).toEqual([
      'Material put into the batch: Our silica',
      'Material changed: Our silica, new',
      'Material taken out: Our silica',
    ]);
    store.undo();
    expect(store.document.materials).toHaveLength(1);
  });

  it('is missed by a batch that uses it, which refuses to be without it', () => {
    const store = desk();
    expect(isMissed(store.document, 'our-silica')).toBe(false);
    store.edit({
      name: 'used',
      recipe: (draft) => {
        draft.order.lens.substrate = 'our-silica';
      },
    });
    expect(placesOf(store.document, 'our-silica')).toEqual(['the lens']);
    expect(isMissed(store.document, 'our-silica')).toBe(true);
    const taken = () => store.edit(removeMaterial(record), (after) => checkEdit(store.document, after));
    expect(taken).toThrow(/order\.lens\.substrate: "our-silica" is no material/);
    expect(store.document.materials).toHaveLength(1);
  });

  it('gets an id of its name that neither batch nor library has', () => {
    const { document } = desk();
    expect(freeMaterialId('Our silica', document)).toBe('our-silica-2');
    expect(freeMaterialId('MgF2', document)).toBe('mgf2-2');
    expect(freeMaterialId('  Überzug № 3 ', document)).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
    expect(freeMaterialId('…', document)).toBe('own');
  });
});
