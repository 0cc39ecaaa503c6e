import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { DocumentStore } from '../../../src/app/document-store.ts';
import { HistoryDesk } from '../../../src/app/history/history-desk.ts';
import type { HistoryShelf } from '../../../src/app/history/history-shelf.ts';
import { type KeptHistory, MOST_KEPT } from '../../../src/app/history/kept-history.ts';
import { withTrailOf } from '../../../src/app/trail-keeper.ts';
import type { Batch } from '../../../src/batch/document.ts';
import { readBatch, writeBatch } from '../../../src/batch/read-batch.ts';

const demo = readFileSync(new URL('../../../demo/eyepiece-field-lens.json', import.meta.url), 'utf8');

class MemoryHistories implements HistoryShelf {
  readonly kept = new Map<string, KeptHistory>();
  async read(id: string) {
    return structuredClone(this.kept.get(id));
  }
  async put(history: KeptHistory) {
    this.kept.set(history.id, structuredClone(history));
  }
  async delete(id: string) {
    this.kept.delete(id);
  }
}

/** A page that has the batch open; `reloaded` is the next one, which reads what storage has. */
async function page(shelf: MemoryHistories, text = demo) {
  const store = new DocumentStore<Batch>(readBatch(text), withTrailOf);
  const desk = new HistoryDesk(store, shelf);
  await desk.recall();
  const order = (quantity: number, name = `Good lenses ${quantity}`) =>
    store.edit({
      name,
      recipe: (draft) => {
        draft.order.quantity = quantity;
      },
    });
  const quantity = () => store.document.order.quantity;
  const reloaded = async () => {
    await desk.keep();
    return page(shelf, writeBatch(store.document));
  };
  return { store, desk, order, quantity, reloaded };
}

const names = (edits: readonly { name: string }[]) => edits.map(({ name }) => name);

describe('the named edits', () => {
  it('are there after a reload, back and forth', async () => {
    const before = await page(new MemoryHistories());
    before.order(100);
    before.store.edit({
      name: 'Layer 2 out',
      recipe: (draft) => void draft.surfaces.front.layers.splice(1, 1),
    });
    before.order(300);
    before.store.undo();
    const { store, quantity, order } = await before.reloaded();
    expect(names(store.past)).toEqual(['Good lenses 100', 'Layer 2 out']);
    expect(names(store.future)).toEqual(['Good lenses 300']);
    expect(store.document.surfaces.front.layers).toHaveLength(2);
    store.redo();
    expect(quantity()).toBe(300);
    store.goTo(0);
    expect(store.document).toEqual(readBatch(demo));
    store.goTo(2);
    expect(store.document.surfaces.front.layers).toHaveLength(2);
    order(50);
    expect(names(store.past)).toEqual(['Good lenses 100', 'Layer 2 out', 'Good lenses 50']);
    expect(store.future).toEqual([]);
  });

  it('made before the kept ones had been read come after them', async () => {
    const shelf = new MemoryHistories();
    const before = await page(shelf);
    before.order(100);
    await before.desk.keep();
    const store = new DocumentStore<Batch>(readBatch(writeBatch(before.store.document)), withTrailOf);
    const desk = new HistoryDesk(store, shelf);
    const recalled = desk.recall();
    store.edit({ name: 'Meanwhile', recipe: ({ order }) => void Object.assign(order, { lot: 'X' }) });
    await desk.keep(); // nothing is known yet of the kept ones, so they are not overwritten
    await recalled;
    expect(names(store.past)).toEqual(['Good lenses 100', 'Meanwhile']);
  });

  it('are taken up once, however often the batch is opened meanwhile', async () => {
    const shelf = new MemoryHistories();
    const before = await page(shelf);
    before.order(100);
    await before.desk.keep();
    const store = new DocumentStore<Batch>(readBatch(writeBatch(before.store.document)), withTrailOf);
    const desk = new HistoryDesk(store, shelf);
    await Promise.all([desk.recall(), desk.recall()]);
    expect(names(store.past)).toEqual(['Good lenses 100']);
  });

  it('end in one more edit where the batch was changed while they were not kept', async () => {
    const shelf = new MemoryHistories();
    const before = await page(shelf);
    before.order(100);
    before.order(200);
    before.store.undo();
    await before.desk.keep();
    before.order(777); // stored with the batch, but the window closed before the history was
    const { store, quantity } = await page(shelf, writeBatch(before.store.document));
    expect(names(store.past)).toEqual(['Good lenses 100', 'Later edits']);
    expect(store.future).toEqual([]);
    store.undo();
    expect(quantity()).toBe(100);
    store.undo();
    expect(quantity()).toBe(360);
  });

  it('are at most a hundred, the nearest', async () => {
    const before = await page(new MemoryHistories());
    for (let edit = 1; edit <= MOST_KEPT + 20; edit += 1) before.order(edit);
    const { store, quantity } = await before.reloaded();
    expect(store.past).toHaveLength(MOST_KEPT);
    store.goTo(0);
    expect(quantity()).toBe(20);
  });

  it('are let go beyond a million characters, the oldest first', async () => {
    const before = await page(new MemoryHistories());
    for (let edit = 1; edit <= 40; edit += 1) before.order(edit, `${edit}`.padEnd(30_000, '.'));
    const { store } = await before.reloaded();
    expect(store.past).toHaveLength(33);
    expect(store.past[0]!.before.order.quantity).toBe(7);
  });

  it('end where a step cannot be taken: a stored one that was spoiled harms nothing', async () => {
    const shelf = new MemoryHistories();
    const before = await page(shelf);
    for (const quantity of [10, 20, 30]) before.order(quantity);
    await before.desk.keep();
    const [kept] = shelf.kept.values();
    const spoiled = [
      '{"name":"x","changes":[{"at":["order","quantity"],"value":-5}]}',
      'no JSON',
      '{"name":"x","changes":[{"at":["nowhere","at","all"],"value":1}]}',
      'null',
    ];
    for (const step of spoiled) {
      shelf.kept.set(kept!.id, { ...kept!, past: [kept!.past[0]!, step, kept!.past[2]!] });
      const { store, quantity } = await page(shelf, writeBatch(before.store.document));
      expect(names(store.past)).toEqual(['Good lenses 30']);
      store.undo();
      expect(quantity()).toBe(20);
    }
    shelf.kept.set(kept!.id, { ...kept!, text: '{}' });
    expect((await page(shelf)).store.past).toEqual([]);
  });

  it('leave the trail of the run log as it is', async () => {
    const before = await page(new MemoryHistories());
    before.order(100);
    before.store.append((draft) => {
      draft.trail = [];
    });
    before.order(200);
    const { store } = await before.reloaded();
    expect(names(store.past)).toEqual(['Good lenses 100', 'Good lenses 200']);
    store.goTo(0);
    expect(store.document.trail).toEqual([]);
    expect(store.document.order.quantity).toBe(360);
  });
});
