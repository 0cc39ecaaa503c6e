import { type BatchEntry, type BatchStorage, StorageError, type StoredBatch } from './storage-port.ts';

/** Keeps batches as long as the page lives: for tests, and where the browser stores nothing. */
export class MemoryStorage implements BatchStorage {
  readonly #batches = new Map<string, StoredBatch>();

  async list(): Promise<BatchEntry[]> {
    return [...this.#batches.values()].map(({ text, ...entry }) => ({ ...entry, characters: text.length }));
  }

  async read(id: string): Promise<StoredBatch | undefined> {
    return this.#batches.get(id);
  }

  async save(batch: Omit<StoredBatch, 'revision'>, startedFrom: number): Promise<number> {
    const stored = this.#batches.get(batch.id);
    if (stored === undefined && startedFrom > 0) throw new StorageError('gone');
    if (stored !== undefined && stored.revision !== startedFrom) throw new StorageError('conflict');
    const revision = startedFrom + 1;
    this.#batches.set(batch.id, { ...batch, revision });
    return revision;
  }

  async delete(id: string): Promise<void> {
    this.#batches.delete(id);
  }
}
