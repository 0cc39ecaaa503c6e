import type { DBSchema, IDBPDatabase } from 'idb';
import { InputError } from '../../base/errors.ts';
import { exportMaterialJson, readOwnMaterial } from '../../materials/own/own-material.ts';
import type { MaterialRecord } from '../../materials/record.ts';
import { guarded, written } from './guarded.ts';
import { openDatabase } from './open-database.ts';

interface Schema extends DBSchema {
  materials: { key: string; value: { readonly id: string; readonly text: string } };
}

/** A stored material that cannot be read. It stays stored, and its text can be handed out. */
export interface DamagedMaterial {
  readonly id: string;
  readonly text: string;
  readonly reason: string;
}

/** What lies on the shelf. */
export interface ShelvedMaterials {
  /** Ready to be computed. */
  readonly records: readonly MaterialRecord[];
  readonly damaged: readonly DamagedMaterial[];
}

/** The shop's own materials beside all batches, in the browser's IndexedDB; any batch can take one in. */
export class MaterialShelf {
  #database: IDBPDatabase<Schema> | undefined;

  /** @throws StorageError as `openDatabase`, as all calls do where the database was closed since, and `full`. */
  static async open(): Promise<MaterialShelf> {
    const shelf = new MaterialShelf();
    await shelf.#opened();
    return shelf;
  }

  async list(): Promise<ShelvedMaterials> {
    const stored = await guarded(async () => (await this.#opened()).getAll('materials'));
    const read = await Promise.all(stored.map(({ id, text }) => readShelved(String(id), text)));
    return {
      records: read.flatMap((one) => ('record' in one ? [one.record] : [])),
      damaged: read.flatMap((one) => ('record' in one ? [] : [one])),
    };
  }

  /** Keeps a material, in place of the one of its id. */
  async put(record: MaterialRecord): Promise<void> {
    const kept = { id: record.id, text: exportMaterialJson(record) };
    await guarded(async () => {
      const transaction = (await this.#opened()).transaction('materials', 'readwrite');
      await written(transaction, transaction.store.put(kept));
    });
  }

  async delete(id: string): Promise<void> {
    await guarded(async () => (await this.#opened()).delete('materials', id));
  }

  /** A database of its own, so that batches and materials can change their layout one without the other. */
  async #opened(): Promise<IDBPDatabase<Schema>> {
    this.#database ??= await openDatabase<Schema>({
      name: 'coatwright-materials',
      layout: 1,
      upgrade: (upgraded) => void upgraded.createObjectStore('materials', { keyPath: 'id' }),
      closed: () => {
        this.#database = undefined;
      },
    });
    return this.#database;
  }
}

async function readShelved(
  id: string,
  text: string,
): Promise<{ readonly record: MaterialRecord } | DamagedMaterial> {
  try {
    return { record: await readOwnMaterial(JSON.parse(text)) };
  } catch (error) {
    if (!(error instanceof InputError || error instanceof SyntaxError)) throw error;
    return { id, text: String(text), reason: error.message };
  }
}
