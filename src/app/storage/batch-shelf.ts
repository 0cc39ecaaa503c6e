import { atPath, InputError } from '../../base/errors.ts';
import type { Batch } from '../../batch/document.ts';
import { readBatch, writeBatch } from '../../batch/read-batch.ts';
import { loadWholeLibrary } from '../../materials/library.ts';
import { prepareMaterials, tryMaterial } from '../../materials/own/own-material.ts';
import type { MaterialRecord } from '../../materials/record.ts';
import type { CrashJournal, LeftNote } from './crash-journal.ts';
import { type BatchEntry, type BatchStorage, StorageError } from './storage-port.ts';

/** A batch as it came from the shelf: readable, damaged (with its text, so that nothing is lost), or not there. */
export type TakenBatch =
  | { readonly kind: 'batch'; readonly batch: Batch; readonly revision: number }
  | { readonly kind: 'damaged'; readonly text: string; readonly reason: string }
  | { readonly kind: 'missing' };

/** What became of edits that a window which is gone had noted: stored in the batch `home`, or still noted, and why. */
export type LeftEdits =
  | { readonly kind: 'stored'; readonly home: string }
  | {
      readonly kind: 'noted';
      readonly text: string;
      readonly reason: string;
      readonly forget: () => void;
    };

/** What the list says of a batch. */
export function entryOf(batch: Batch): { id: string; title: string; lot: string; text: string } {
  return { id: batch.id, title: batch.order.title, lot: batch.order.lot, text: writeBatch(batch) };
}

/** The shop's batches: taken from storage, put there, copied, sorted by when they were worked on last. */
export class BatchShelf {
  readonly #storage: BatchStorage;
  /** Where edits are noted before storage has them; absent where the page keeps nothing. */
  readonly journal: CrashJournal | undefined;

  constructor(storage: BatchStorage, journal?: CrashJournal) {
    this.#storage = storage;
    this.journal = journal;
  }

  get storage(): BatchStorage {
    return this.#storage;
  }

  /** All batches, the one worked on last first. */
  async list(): Promise<BatchEntry[]> {
    const entries = await this.#storage.list();
    return entries.sort((a, b) => b.savedAt - a.savedAt || a.id.localeCompare(b.id));
  }

  async take(id: string): Promise<TakenBatch> {
    const stored = await this.#storage.read(id);
    if (stored === undefined) return { kind: 'missing' };
    try {
      return { kind: 'batch', batch: await readWithLibrary(stored.text), revision: stored.revision };
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      return { kind: 'damaged', text: stored.text, reason: error.message };
    }
  }

  /**
   * Stores the edits of a batch that killed windows had noted but not stored: in the batch where they follow what is stored,
   * else, where another window has stored since, beside it. What cannot be read or stored stays noted.
   */
  async bringBack(id: string): Promise<LeftEdits[]> {
    const edits: LeftEdits[] = [];
    for (const left of (await this.journal?.left(id)) ?? []) {
      const { text, forget } = left;
      try {
        const home = await this.#homeOf(left);
        forget();
        if (home !== undefined) edits.push({ kind: 'stored', home });
      } catch (error) {
        if (!(error instanceof InputError || error instanceof StorageError)) throw error;
        edits.push({ kind: 'noted', text, reason: error.message, forget });
      }
    }
    return edits;
  }

  /** Stores what was left; answers the id of the batch that has it now, or undefined where it was stored already. */
  async #homeOf({ id, text, revision, saving }: LeftNote): Promise<string | undefined> {
    const stored = await this.#storage.read(id);
    if (text === stored?.text) return undefined;
    const batch = await readWithLibrary(text);
    const follows = stored !== undefined && (revision === stored.revision || saving === stored.savedAt);
    if (!follows) return (await this.add(batch)).batch.id;
    await this.#storage.save({ ...entryOf(batch), savedAt: Date.now() }, stored.revision);
    return id;
  }

  /** Puts a batch on the shelf under a name that is free, and answers it as it stands there. */
  async add(batch: Batch): Promise<{ batch: Batch; revision: number }> {
    const taken = new Set((await this.#storage.list()).map(({ id }) => id));
    const added = { ...batch, id: freeId(batch.id, taken) };
    const revision = await this.#storage.save({ ...entryOf(added), savedAt: Date.now() }, 0);
    return { batch: added, revision };
  }

  /** A copy for the next lot: same order, coating and machine, but none of the runs that were made. */
  async duplicate(batch: Batch): Promise<{ batch: Batch; revision: number }> {
    const order = { ...batch.order, title: `${batch.order.title} (copy)`.slice(0, 120) };
    const { trail: _, ...rest } = batch;
    return this.add({ ...rest, order, runs: [] });
  }

  delete(id: string): Promise<void> {
    return this.#storage.delete(id);
  }
}

/**
 * Reads a batch and loads what computing it needs: the reader of expressions where a material that it carries is one.
 * Where it is refused, once more with the whole library of materials, which a page does not load at once.
 * @throws InputError as `readBatch`.
 */
export async function readWithLibrary(text: string): Promise<Batch> {
  const batch = await readOnceOrTwice(text);
  await prepareMaterials(batch.materials);
  for (const [index, record] of batch.materials.entries()) tryAt(record, `materials[${index}]`);
  return batch;
}

async function readOnceOrTwice(text: string): Promise<Batch> {
  try {
    return readBatch(text);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    await loadWholeLibrary();
    return readBatch(text);
  }
}

function tryAt(record: MaterialRecord, path: string): void {
  try {
    tryMaterial(record);
  } catch (error) {
    throw error instanceof InputError ? atPath(path, error) : error;
  }
}

/** `wanted`, or with a number behind it where that is taken. Names of batches have at most 64 characters. */
export function freeId(wanted: string, taken: ReadonlySet<string>): string {
  if (!taken.has(wanted)) return wanted;
  const stem = wanted.replace(/-\d+$/, '').slice(0, 58);
  for (let number = 2; ; number += 1) {
    const candidate = `${stem}-${number}`;
    if (!taken.has(candidate)) return candidate;
  }
}
