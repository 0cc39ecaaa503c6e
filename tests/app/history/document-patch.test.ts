import fc from 'fast-check';
import { produce } from 'immer';
import { describe, expect, it } from 'vitest';
import { applyDifferences, differences } from '../../../src/app/history/document-patch.ts';

/** Documents as JSON has them; -0 is none of them. */
const document = fc
  .dictionary(fc.string({ minLength: 1, maxLength: 3 }), fc.jsonValue({ maxDepth: 4 }), { maxKeys: 5 })
  .map((value) => JSON.parse(JSON.stringify(value)) as object)
  .filter((value) => !JSON.stringify(value).includes('__proto__'));

describe('the differences of two documents', () => {
  it('make the one into the other, read back from their text', () => {
    fc.assert(
      fc.property(document, document, (one, other) => {
        const changes = JSON.parse(JSON.stringify(differences(one, other)));
        expect(produce(one, (draft) => applyDifferences(draft, changes))).toEqual(other);
      }),
      { seed: 8, numRuns: 200 },
    );
  });

  it('are none between documents that say the same', () => {
    fc.assert(
      fc.property(document, (one) => differences(one, structuredClone(one)).length === 0),
      { seed: 8, numRuns: 100 },
    );
  });

  it('of a list leave the items alone that stayed', () => {
    const one = { layers: [{ nm: 90 }, { nm: 20 }, { nm: 55 }] };
    expect(differences(one, { layers: [{ nm: 90 }, { nm: 55 }] })).toEqual([
      { at: ['layers'], from: 1, out: 1, put: [] },
    ]);
    expect(differences(one, { layers: [{ nm: 90 }, { nm: 21 }, { nm: 55 }] })).toEqual([
      { at: ['layers', 1, 'nm'], value: 21 },
    ]);
    expect(differences({ at: [1, 2, 3, 4] }, { at: [1, 7, 8, 4] })).toEqual([
      { at: ['at'], from: 1, out: 2, put: [7, 8] },
    ]);
  });

  it('are refused by a document that has no such place', () => {
    const refused = (changes: unknown) => () =>
      applyDifferences({ lens: { diameterMm: 32 }, layers: [] }, changes as never);
    expect(refused([{ at: ['rack', 'places'], value: 3 }])).toThrow('rack: the document has no such place');
    expect(refused([{ at: ['layers'], from: 2, out: 1, put: [] }])).toThrow(RangeError);
    expect(refused([{ at: ['lens', '__proto__'], value: {} }])).toThrow(RangeError);
    expect(refused([{ at: ['constructor', 'prototype', 'x'], value: 1 }])).toThrow(RangeError);
  });
});
