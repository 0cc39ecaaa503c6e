import type { DBSchema, IDBPDatabase } from 'idb';
import { guarded, written } from './guarded.ts';
import { openDatabase } from './open-database.ts';
import { type BatchEntry, type BatchStorage, StorageError, type StoredBatch } from './storage-port.ts';

interface Schema extends DBSchema {
  batches: { key: string; value: StoredBatch };
}

/** Batches in the browser's IndexedDB. One that was deleted behind the page's back is opened anew. */
export class IndexedDbStorage implements BatchStorage {
  #database: IDBPDatabase<Schema> | undefined;
  #isSuperseded = false;

  /** @throws StorageError as `openDatabase`. */
  static async open(): Promise<IndexedDbStorage> {
    const storage = new IndexedDbStorage();
    await storage.#opened();
    return storage;
  }

  list(): Promise<BatchEntry[]> {
    return guarded(async () => {
      const all = await (await this.#opened()).getAll('batches');
      return all.map(soundRecord).map(({ text, ...entry }) => ({ ...entry, characters: text.length }));
    });
  }

  read(id: string): Promise<StoredBatch | undefined> {
    return guarded(async () => {
      const stored = await (await this.#opened()).get('batches', id);
      return stored && soundRecord(stored);
    });
  }

  save(batch: Omit<StoredBatch, 'revision'>, startedFrom: number): Promise<number> {
    return guarded(async () => {
      const database = await this.#opened();
      const transaction = database.transaction('batches', 'readwrite', { durability: 'strict' });
      const stored = await transaction.store.get(batch.id);
      const clash = clashOf(stored && soundRecord(stored), startedFrom);
      if (clash !== undefined) {
        transaction.abort();
        await transaction.done.catch(() => undefined);
        throw clash;
      }
      const revision = startedFrom + 1;
      await written(transaction, transaction.store.put({ ...batch, revision }));
      return revision;
    });
  }

  delete(id: string): Promise<void> {
    return guarded(async () => (await this.#opened()).delete('batches', id));
  }

  async #opened(): Promise<IDBPDatabase<Schema>> {
    if (this.#isSuperseded) throw new StorageError('superseded');
    this.#database ??= await openDatabase<Schema>({
      name: 'coatwright',
      layout: 1,
      upgrade: (upgraded, from) => {
        if (from < 1) upgraded.createObjectStore('batches', { keyPath: 'id' });
      },
      closed: (why) => {
        this.#database = undefined;
        this.#isSuperseded = why === 'superseded';
      },
    });
    return this.#database;
  }
}

function clashOf(stored: StoredBatch | undefined, startedFrom: number): StorageError | undefined {
  if (stored === undefined) return startedFrom > 0 ? new StorageError('gone') : undefined;
  return stored.revision === startedFrom ? undefined : new StorageError('conflict');
}

/** A record as it should be: what was damaged by hand reads as empty, and a text that is none is the record itself. */
function soundRecord(record: StoredBatch): StoredBatch {
  const { id, title, lot, savedAt, revision, text } = record as {
    readonly [Field in keyof StoredBatch]: unknown;
  };
  return {
    id: String(id),
    title: typeof title === 'string' ? title : '',
    lot: typeof lot === 'string' ? lot : '',
    savedAt: Number.isFinite(savedAt) ? (savedAt as number) : 0,
    revision: Number.isSafeInteger(revision) ? (revision as number) : 0,
    text: typeof text === 'string' ? text : JSON.stringify(record),
  };
}
