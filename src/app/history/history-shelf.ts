import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { KeptHistory } from './kept-history.ts';

/** Where histories are kept. None of it ever fails aloud: a history gives way to everything else. */
export interface HistoryShelf {
  read(id: string): Promise<KeptHistory | undefined>;
  put(history: KeptHistory): Promise<void>;
  delete(id: string): Promise<void>;
}

interface Schema extends DBSchema {
  histories: { key: string; value: KeptHistory };
}

/** A database of its own, so that batches never wait for histories and their layouts change one without the other. */
const NAME = 'coatwright-histories';
const LAYOUT_VERSION = 1;

/** Histories in the browser's IndexedDB. */
export class DatabaseHistoryShelf implements HistoryShelf {
  readonly #database: Promise<IDBPDatabase<Schema> | undefined> = openDB<Schema>(NAME, LAYOUT_VERSION, {
    upgrade: (upgraded) => void upgraded.createObjectStore('histories', { keyPath: 'id' }),
    blocking: (_current, _blocked, event) => (event.target as IDBDatabase).close(),
  }).catch(() => undefined);

  read(id: string): Promise<KeptHistory | undefined> {
    return this.#quietly((database) => database.get('histories', id));
  }

  /** Keeps a history; where there is no room for it the one before goes too, since it would no longer be the whole one. */
  async put(history: KeptHistory): Promise<void> {
    const put = await this.#quietly((database) => database.put('histories', history));
    if (put === undefined) await this.delete(history.id);
  }

  delete(id: string): Promise<void> {
    return this.#quietly((database) => database.delete('histories', id));
  }

  async #quietly<Answer>(
    work: (database: IDBPDatabase<Schema>) => Promise<Answer>,
  ): Promise<Answer | undefined> {
    try {
      const database = await this.#database;
      return database && (await work(database));
    } catch {
      return undefined;
    }
  }
}
