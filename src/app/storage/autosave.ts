import { type BatchStorage, StorageError, type StoredBatch } from './storage-port.ts';

/** How storing goes: all is safe, something waits or is under way, or it failed and why. */
export type SaveState =
  | { readonly kind: 'saved' }
  | { readonly kind: 'saving' }
  | { readonly kind: 'failed'; readonly error: StorageError };

/** What is to be stored, asked for when it is stored. */
export type Snapshot = Pick<StoredBatch, 'id' | 'title' | 'lot' | 'text'>;

/** Edits that follow each other this fast are stored together. */
const GATHER_MS = 250;

/**
 * Stores the batch after each completed edit, one transaction at a time, the newest state last. What fails
 * stays wanted: the next edit, or `flush`, tries again.
 */
export class Autosave {
  readonly #storage: BatchStorage;
  readonly #take: () => Snapshot;
  readonly #report: (state: SaveState) => void;
  #revision: number;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #wanted = false;
  #running: Promise<void> | undefined;

  constructor(
    storage: BatchStorage,
    take: () => Snapshot,
    revision: number,
    report: (state: SaveState) => void,
  ) {
    this.#storage = storage;
    this.#take = take;
    this.#revision = revision;
    this.#report = report;
  }

  /** The revision that storage holds of this batch, as far as this page knows. */
  get revision(): number {
    return this.#revision;
  }

  /** Whether everything has reached storage. */
  get isSettled(): boolean {
    return !this.#wanted && this.#running === undefined;
  }

  /** Stores soon. */
  want(): void {
    this.#wanted = true;
    this.#report({ kind: 'saving' });
    if (this.#timer !== undefined) return;
    this.#timer = setTimeout(() => void this.flush(), GATHER_MS);
  }

  /** Stores now what waits; resolves when it has been stored or has failed. Never rejects. */
  async flush(): Promise<void> {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    while (this.#running !== undefined) await this.#running;
    if (!this.#wanted) return;
    this.#running = this.#save();
    await this.#running;
  }

  /** Stores over what another window has stored, having been told to. */
  async overrule(revision: number): Promise<void> {
    this.#revision = revision;
    this.#wanted = true;
    await this.flush();
  }

  /** Stops; what waits is dropped. */
  stop(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    this.#wanted = false;
  }

  async #save(): Promise<void> {
    this.#wanted = false;
    try {
      this.#revision = await this.#storage.save({ ...this.#take(), savedAt: Date.now() }, this.#revision);
      if (!this.#wanted) this.#report({ kind: 'saved' });
    } catch (cause) {
      this.#wanted = true;
      const error = cause instanceof StorageError ? cause : new StorageError('failed', cause);
      this.#report({ kind: 'failed', error });
    } finally {
      this.#running = undefined;
    }
  }
}
