import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import { type BatchEntry, type BatchStorage, StorageError, type StoredBatch } from './storage-port.ts';

interface Schema extends DBSchema {
  batches: { key: string; value: StoredBatch };
}

const NAME = 'coatwright';
/** Version of the stores' layout, not of the batch document. */
const LAYOUT_VERSION = 1;

/** Batches in the browser's IndexedDB. */
export class IndexedDbStorage implements BatchStorage {
  readonly #database: IDBPDatabase<Schema>;

  private constructor(database: IDBPDatabase<Schema>) {
    this.#database = database;
  }

  /** @throws StorageError `blocked` where the browser gives no database. */
  static async open(): Promise<IndexedDbStorage> {
    try {
      const database = await openDB<Schema>(NAME, LAYOUT_VERSION, {
        upgrade(upgraded, from) {
          if (from < 1) upgraded.createObjectStore('batches', { keyPath: 'id' });
        },
        // A newer program in another window wants the database: let it go, so that nothing hangs there.
        blocking: (_current, _blocked, event) => (event.target as IDBDatabase).close(),
      });
      return new IndexedDbStorage(database);
    } catch (cause) {
      throw new StorageError('blocked', cause);
    }
  }

  list(): Promise<BatchEntry[]> {
    return guarded(async () => {
      const all = await this.#database.getAll('batches');
      return all.map(({ text, ...entry }) => ({ ...entry, characters: text.length }));
    });
  }

  read(id: string): Promise<StoredBatch | undefined> {
    return guarded(() => this.#database.get('batches', id));
  }

  save(batch: Omit<StoredBatch, 'revision'>, startedFrom: number): Promise<number> {
    return guarded(async () => {
      const transaction = this.#database.transaction('batches', 'readwrite', { durability: 'strict' });
      const stored = await transaction.store.get(batch.id);
      const clash = clashOf(stored, startedFrom);
      if (clash !== undefined) {
        transaction.abort();
        await transaction.done.catch(() => undefined);
        throw clash;
      }
      const revision = startedFrom + 1;
      await Promise.all([transaction.store.put({ ...batch, revision }), transaction.done]);
      return revision;
    });
  }

  delete(id: string): Promise<void> {
    return guarded(() => this.#database.delete('batches', id));
  }
}

function clashOf(stored: StoredBatch | undefined, startedFrom: number): StorageError | undefined {
  if (stored === undefined) return startedFrom > 0 ? new StorageError('gone') : undefined;
  return stored.revision === startedFrom ? undefined : new StorageError('conflict');
}

async function guarded<Answer>(work: () => Promise<Answer>): Promise<Answer> {
  try {
    return await work();
  } catch (cause) {
    if (cause instanceof StorageError) throw cause;
    const full = cause instanceof DOMException && cause.name === 'QuotaExceededError';
    throw new StorageError(full ? 'full' : 'failed', cause);
  }
}
