import { describe, expect, it } from 'vitest';
import { DocumentStore } from '../../src/app/document-store.ts';

interface Sheet {
  diameterMm: number;
  layers: { nm: number }[];
}

function sheetStore() {
  const clock = { ms: 0 };
  const store = new DocumentStore<Sheet>(
    { diameterMm: 32, layers: [{ nm: 90 }, { nm: 20 }] },
    undefined,
    () => clock.ms,
  );
  const type = (diameterMm: number) =>
    store.edit({
      key: 'diameter',
      name: (before, after) => `Diameter ${before.diameterMm} → ${after.diameterMm} mm`,
      recipe: (draft) => {
        draft.diameterMm = diameterMm;
      },
    });
  return { clock, store, type };
}

describe('the document store', () => {
  it('makes a new document that shares what stayed', () => {
    const { store, type } = sheetStore();
    const before = store.document;
    type(34);
    expect(store.document).toEqual({ diameterMm: 34, layers: [{ nm: 90 }, { nm: 20 }] });
    expect(store.document.layers).toBe(before.layers);
    expect(before.diameterMm).toBe(32);
  });

  it('takes back and does again in order', () => {
    const { store, type } = sheetStore();
    type(34);
    store.settle();
    type(36);
    expect(store.undo()?.name).toBe('Diameter 34 → 36 mm');
    expect(store.document.diameterMm).toBe(34);
    expect(store.latest?.name).toBe('Undone: Diameter 34 → 36 mm');
    store.undo();
    expect(store.undo()).toBeUndefined();
    expect(store.document.diameterMm).toBe(32);
    store.redo();
    store.redo();
    expect(store.redo()).toBeUndefined();
    expect(store.document.diameterMm).toBe(36);
  });

  it('merges typing into one field under the name of the whole', () => {
    const { store, type } = sheetStore();
    type(3);
    type(34);
    expect(store.past.map(({ name }) => name)).toEqual(['Diameter 32 → 34 mm']);
    store.undo();
    expect(store.document.diameterMm).toBe(32);
  });

  it('starts every edit of a row from the document before the row', () => {
    const { store } = sheetStore();
    const widen = (diameterMm: number) =>
      store.edit({
        key: 'both',
        name: 'both',
        recipe: (draft) => {
          draft.diameterMm = diameterMm;
          draft.layers = draft.layers.filter(({ nm }) => nm > 100 / diameterMm);
        },
      });
    widen(2);
    expect(store.document.layers).toHaveLength(1);
    widen(20);
    expect(store.document.layers).toHaveLength(2);
    widen(32);
    expect(store.past).toHaveLength(1);
  });

  it('keeps apart what is typed after a pause or after settling', () => {
    const { clock, store, type } = sheetStore();
    type(33);
    clock.ms = 10_000;
    type(34);
    store.settle();
    type(35);
    expect(store.past).toHaveLength(3);
  });

  it('keeps a drag one edit however long it rests, until it is let go', () => {
    const { clock, store } = sheetStore();
    const drag = (diameterMm: number, isHeld: boolean) =>
      store.edit({
        key: 'diameter',
        isHeld,
        name: `Diameter ${diameterMm} mm`,
        recipe: (draft) => {
          draft.diameterMm = diameterMm;
        },
      });
    for (const diameterMm of [33, 34, 35]) {
      drag(diameterMm, diameterMm < 35);
      clock.ms += 10_000;
    }
    drag(36, false);
    expect(store.past.map(({ name }) => name)).toEqual(['Diameter 35 mm', 'Diameter 36 mm']);
  });

  it('forgets what was undone once something new is done', () => {
    const { store, type } = sheetStore();
    type(34);
    store.undo();
    type(40);
    expect(store.future).toHaveLength(0);
    expect(store.redo()).toBeUndefined();
  });

  it('counts an edit that changes nothing for nothing', () => {
    const { store, type } = sheetStore();
    expect(type(32)).toBe(false);
    expect(store.past).toHaveLength(0);
  });

  it('leaves everything as it was where the check refuses', () => {
    const { store } = sheetStore();
    const refuse = () => {
      throw new RangeError('too large');
    };
    const change = { name: 'x', recipe: (draft: Sheet) => Object.assign(draft, { diameterMm: 1e9 }) };
    expect(() => store.edit(change, refuse)).toThrow('too large');
    expect(store.document.diameterMm).toBe(32);
    expect(store.past).toHaveLength(0);
  });

  it('walks to any point of the history as one step', () => {
    const { store, type } = sheetStore();
    for (const diameter of [33, 34, 35]) {
      type(diameter);
      store.settle();
    }
    store.goTo(1);
    expect(store.document.diameterMm).toBe(33);
    expect(store.future).toHaveLength(2);
    store.goTo(3);
    expect(store.document.diameterMm).toBe(35);
    store.goTo(0);
    expect(store.document.diameterMm).toBe(32);
    expect(store.latest?.name).toBe('Back to: the beginning');
  });

  it('tells its listeners of every change until they leave', () => {
    const { store, type } = sheetStore();
    let told = 0;
    const leave = store.subscribe(() => {
      told += 1;
    });
    type(33);
    store.undo();
    leave();
    store.redo();
    expect(told).toBe(2);
  });
});
