/** A batch as storage keeps it: the text of its file, so that even a damaged one can be handed back. */
export interface StoredBatch {
  readonly id: string;
  readonly title: string;
  readonly lot: string;
  /** Milliseconds since 1970. */
  readonly savedAt: number;
  /** Counts the savings; who saves says which one he started from. */
  readonly revision: number;
  readonly text: string;
}

/** What a list of batches shows. */
export type BatchEntry = Omit<StoredBatch, 'text'> & { readonly characters: number };

/** Why something could not be stored. */
export type StorageFault =
  | 'full'
  | 'blocked'
  | 'held'
  | 'newer'
  | 'superseded'
  | 'conflict'
  | 'gone'
  | 'failed';

const SENTENCES: Readonly<Record<StorageFault, string>> = {
  full: 'The browser has no room left for batches: export this one to a file, then delete some.',
  blocked:
    'The browser lets this page store nothing (a private window, or storage is forbidden): export the batch before you leave.',
  held: 'Another window holds the storage, perhaps with an older version of this program: close it, then reload this one. Until then nothing is stored: export the batch to be safe.',
  newer:
    'What this browser keeps belongs to a newer version of this program: reload the page to start that one. Until then nothing is stored: export the batch to be safe.',
  superseded:
    'A newer version of this program was started in another window and has taken over the storage: reload this window. Until then nothing more is stored: export the batch to be safe.',
  conflict: 'This batch was changed in another window meanwhile.',
  gone: 'This batch was deleted in another window meanwhile.',
  failed: 'The browser could not store the batch: export it to a file to be safe.',
};

/** A failure of storage, with a sentence that says what to do. */
export class StorageError extends Error {
  override name = 'StorageError';
  readonly fault: StorageFault;

  constructor(fault: StorageFault, cause?: unknown) {
    super(SENTENCES[fault], { cause });
    this.fault = fault;
  }
}

/** Where batches live. All calls reject with a `StorageError` only. */
export interface BatchStorage {
  list(): Promise<BatchEntry[]>;
  read(id: string): Promise<StoredBatch | undefined>;
  /**
   * Stores a batch in one transaction: all of it or nothing. `startedFrom` is the revision that was read (0 for
   * a new batch); another one in storage means that somebody else has saved meanwhile, a conflict.
   * Answers the new revision.
   */
  save(batch: Omit<StoredBatch, 'revision'>, startedFrom: number): Promise<number>;
  delete(id: string): Promise<void>;
}
