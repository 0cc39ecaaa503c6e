import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Autosave } from '../../src/app/storage/autosave.ts';
import { BatchShelf, entryOf } from '../../src/app/storage/batch-shelf.ts';
import type { CrashJournal, LeftNote, UnsavedBatch } from '../../src/app/storage/crash-journal.ts';
import { MemoryStorage } from '../../src/app/storage/memory-storage.ts';
import { StorageError } from '../../src/app/storage/storage-port.ts';
import type { Batch } from '../../src/batch/document.ts';
import { readBatch } from '../../src/batch/read-batch.ts';

/** A journal as a window finds it that is opened after another was killed. */
class LeftJournal implements CrashJournal {
  readonly notes = new Map<string, UnsavedBatch>();
  room = true;

  note(unsaved: UnsavedBatch): boolean {
    if (this.room) this.notes.set(unsaved.id, unsaved);
    return this.room;
  }

  async left(id: string): Promise<LeftNote[]> {
    const note = this.notes.get(id);
    return note === undefined ? [] : [{ ...note, forget: () => this.clear(id) }];
  }

  clear(id: string): void {
    this.notes.delete(id);
  }
}

const demo = readBatch(readFileSync(new URL('../../demo/prism-face.json', import.meta.url), 'utf8'));
const titled = (title: string): Batch => ({ ...demo, order: { ...demo.order, title } });

/** A shelf that holds the demo, and a window that edits it. */
async function desk() {
  const [storage, journal] = [new MemoryStorage(), new LeftJournal()];
  const shelf = new BatchShelf(storage, journal);
  const { batch, revision } = await shelf.add(demo);
  const page = { batch };
  const save = new Autosave(
    storage,
    () => entryOf(page.batch),
    revision,
    () => undefined,
    journal,
  );
  const edit = (title: string) => {
    page.batch = titled(title);
    save.want();
  };
  const titleOf = async (id: string) => {
    const taken = await shelf.take(id);
    return taken.kind === 'batch' ? taken.batch.order.title : taken.kind;
  };
  return { storage, journal, shelf, save, edit, titleOf, id: batch.id };
}

describe('the journal of unsaved edits', () => {
  it('has an edit at once, and forgets it when it is stored', async () => {
    const { journal, save, edit, id } = await desk();
    edit('first');
    expect(JSON.parse(journal.notes.get(id)!.text).order.title).toBe('first');
    await save.flush();
    expect(journal.notes.size).toBe(0);
  });

  it('keeps an edit that was made while another was being stored', async () => {
    const { journal, save, edit, id, shelf, titleOf } = await desk();
    edit('first');
    const flushed = save.flush();
    edit('second');
    const note = journal.notes.get(id)!;
    expect(note.saving).toBeTypeOf('number');
    await flushed;
    save.stop(); // the window is killed: the second edit was never stored
    journal.notes.set(id, note); // and its note was the last that was written
    expect(await titleOf(id)).toBe('first');
    expect(await shelf.bringBack(id)).toEqual([{ kind: 'stored', home: id }]);
    expect(await titleOf(id)).toBe('second');
    expect(journal.notes.size).toBe(0);
  });

  it('brings edits back that were never stored', async () => {
    const { save, edit, id, shelf, titleOf } = await desk();
    edit('first');
    save.stop();
    expect(await shelf.bringBack(id)).toEqual([{ kind: 'stored', home: id }]);
    expect(await titleOf(id)).toBe('first');
    expect(await shelf.bringBack(id)).toEqual([]);
  });

  it('puts them beside a batch that another window has stored since, and overwrites nothing', async () => {
    const { storage, save, edit, id, shelf, titleOf } = await desk();
    edit('mine');
    save.stop();
    await storage.save({ ...entryOf(titled('theirs')), savedAt: 1 }, 1);
    expect(await shelf.bringBack(id)).toEqual([{ kind: 'stored', home: `${id}-2` }]);
    expect([await titleOf(id), await titleOf(`${id}-2`)]).toEqual(['theirs', 'mine']);
  });

  it('says nothing where what was noted is what is stored', async () => {
    const { journal, id, shelf, storage } = await desk();
    const text = (await storage.read(id))!.text;
    journal.note({ id, revision: 0, text });
    expect(await shelf.bringBack(id)).toEqual([]);
    expect(journal.notes.size).toBe(0);
  });

  it('hands out and keeps what cannot be read or stored, until it is told to forget it', async () => {
    const { journal, id, shelf, storage } = await desk();
    journal.note({ id, revision: 1, text: '{}' });
    const [damaged] = await shelf.bringBack(id);
    expect(damaged).toMatchObject({
      kind: 'noted',
      text: '{}',
      reason: expect.stringContaining('not a Coatwright batch'),
    });
    if (damaged?.kind === 'noted') damaged.forget();
    expect(journal.notes.size).toBe(0);
    journal.note({ id, revision: 1, text: entryOf(titled('mine')).text });
    storage.save = () => Promise.reject(new StorageError('full'));
    expect(await shelf.bringBack(id)).toMatchObject([
      { kind: 'noted', reason: expect.stringContaining('no room') },
    ]);
    expect(journal.notes.size).toBe(1);
  });

  it('without room has the edit stored at once', async () => {
    const { journal, edit, id, titleOf } = await desk();
    journal.room = false;
    edit('first');
    await Promise.resolve();
    expect(await titleOf(id)).toBe('first');
  });

  it('forgets edits that are no longer wanted', async () => {
    const { journal, save, edit } = await desk();
    edit('first');
    save.drop();
    expect(journal.notes.size).toBe(0);
  });
});
