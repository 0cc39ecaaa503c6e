import type { CrashJournal } from './crash-journal.ts';
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
  readonly #journal: CrashJournal | undefined;
  readonly #take: () => Snapshot;
  readonly #report: (state: SaveState) => void;
  #revision: number;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #wanted = false;
  /** When the saving under way began. */
  #savingSince: number | undefined;
  #running: Promise<void> | undefined;

  constructor(
    storage: BatchStorage,
    take: () => Snapshot,
    revision: number,
    report: (state: SaveState) => void,
    journal?: CrashJournal,
  ) {
    this.#storage = storage;
    this.#journal = journal;
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

  /** Stores soon, and notes the batch at once, so that a window that is killed meanwhile loses nothing. */
  want(): void {
    this.#wanted = true;
    this.#report({ kind: 'saving' });
    if (!this.#note()) {
      void this.flush();
      return;
    }
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

  /** Stops; what waits is dropped, but for its note in the journal. */
  stop(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    this.#wanted = false;
  }

  /** Stops, and forgets the edits that were noted: they are no longer wanted, or kept elsewhere. */
  drop(): void {
    this.stop();
    this.#journal?.clear(this.#take().id);
  }

  /** Whether storing may wait: without a journal, or with the batch noted in it. */
  #note(): boolean {
    if (this.#journal === undefined) return true;
    const { id, text } = this.#take();
    const saving = this.#savingSince === undefined ? {} : { saving: this.#savingSince };
    return this.#journal.note({ id, revision: this.#revision, ...saving, text });
  }

  async #save(): Promise<void> {
    this.#wanted = false;
    try {
      const taken = this.#take();
      this.#savingSince = Date.now();
      this.#revision = await this.#storage.save({ ...taken, savedAt: this.#savingSince }, this.#revision);
      this.#savingSince = undefined;
      if (this.#wanted) this.#note();
      else {
        this.#journal?.clear(taken.id);
        this.#report({ kind: 'saved' });
      }
    } catch (cause) {
      this.#wanted = true;
      const error = cause instanceof StorageError ? cause : new StorageError('failed', cause);
      this.#report({ kind: 'failed', error });
    } finally {
      this.#savingSince = undefined;
      this.#running = undefined;
    }
  }
}
