import { beforeAll, describe, expect, it } from 'vitest';
import { groupMaterials } from '../../src/app/pages/materials/material-groups.ts';
import { allMaterials, loadWholeLibrary } from '../../src/materials/library.ts';

beforeAll(() => loadWholeLibrary());

const none = new Set<string>();

describe('the list of materials', () => {
  it('has films first and every material once', () => {
    const groups = groupMaterials(allMaterials(), none, '');
    expect(groups.map(({ title }) => title)).toEqual([
      'Films',
      'Metals',
      'Glasses',
      'Crystals and semiconductors',
    ]);
    const ids = groups.flatMap(({ records }) => records.map(({ id }) => id));
    expect([...ids].sort()).toEqual(allMaterials().map(({ id }) => id));
  });

  it('puts what the batch carries before everything', () => {
    const [first] = groupMaterials(allMaterials(), new Set(['517642', 'mgf2']), '');
    expect(first?.title).toBe('Carried by this batch');
    expect(first?.records.map(({ id }) => id)).toEqual(['517642', 'mgf2']);
  });

  it('is searched for all words at once, in names, ids, formulas and citations', () => {
    const found = (wanted: string) =>
      groupMaterials(allMaterials(), none, wanted).flatMap(({ records }) => records.map(({ id }) => id));
    expect(found('hfo2 BRIGHT')).toEqual(['hfo2-sputter']);
    expect(found('517642')).toEqual(['517642']);
    expect(found('nothing of this kind')).toEqual([]);
  });
});
