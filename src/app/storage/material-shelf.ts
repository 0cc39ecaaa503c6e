import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import { InputError } from '../../base/errors.ts';
import { exportMaterialJson, readOwnMaterial } from '../../materials/own/own-material.ts';
import type { MaterialRecord } from '../../materials/record.ts';
import { StorageError } from './storage-port.ts';

interface Schema extends DBSchema {
  materials: { key: string; value: { readonly id: string; readonly text: string } };
}

/** A database of its own, so that batches and materials can change their layout one without the other. */
const NAME = 'coatwright-materials';
const LAYOUT_VERSION = 1;

/** The shop's own materials beside all batches, in the browser's IndexedDB; any batch can take one in. */
export class MaterialShelf {
  readonly #database: IDBPDatabase<Schema>;

  private constructor(database: IDBPDatabase<Schema>) {
    this.#database = database;
  }

  /** @throws StorageError `blocked` where the browser gives no database. */
  static async open(): Promise<MaterialShelf> {
    try {
      const database = await openDB<Schema>(NAME, LAYOUT_VERSION, {
        upgrade: (upgraded) => void upgraded.createObjectStore('materials', { keyPath: 'id' }),
        blocking: (_current, _blocked, event) => (event.target as IDBDatabase).close(),
      });
      return new MaterialShelf(database);
    } catch (cause) {
      throw new StorageError('blocked', cause);
    }
  }

  /** The materials that can be read, ready to be computed; one that cannot stays stored and is left out. */
  async list(): Promise<MaterialRecord[]> {
    const stored = await this.#database.getAll('materials');
    const read = await Promise.all(stored.map(({ text }) => readOrNothing(text)));
    return read.flatMap((record) => (record === undefined ? [] : [record]));
  }

  /** Keeps a material, in place of the one of its id. */
  async put(record: MaterialRecord): Promise<void> {
    await this.#database.put('materials', { id: record.id, text: exportMaterialJson(record) });
  }

  async delete(id: string): Promise<void> {
    await this.#database.delete('materials', id);
  }
}

async function readOrNothing(text: string): Promise<MaterialRecord | undefined> {
  try {
    return await readOwnMaterial(JSON.parse(text));
  } catch (error) {
    if (error instanceof InputError || error instanceof SyntaxError) return undefined;
    throw error;
  }
}
