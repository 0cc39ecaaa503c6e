import { InputError } from '../../base/errors.ts';
import type { Batch } from '../../batch/document.ts';
import type { DocumentStore } from '../document-store.ts';
import type { HistoryShelf } from './history-shelf.ts';
import { keptHistory, recalledHistory } from './kept-history.ts';

/** Carries the named edits of the open batch over a reload. */
export class HistoryDesk {
  readonly #store: DocumentStore<Batch>;
  readonly #shelf: HistoryShelf;
  /** Id of the batch whose kept history has been taken up; before that nothing is put in its place. */
  #known: string | undefined;
  /** Counts what was opened, so that a late answer is not taken for another opening's. */
  #openings = 0;

  constructor(store: DocumentStore<Batch>, shelf: HistoryShelf) {
    this.#store = store;
    this.#shelf = shelf;
  }

  /** Takes up what is kept of the batch that has been opened, before the edits that were made since. */
  async recall(): Promise<void> {
    this.#known = undefined;
    this.#openings += 1;
    const opening = this.#openings;
    const { id } = this.#store.document;
    const opened = this.#store.past[0]?.before ?? this.#store.document;
    const kept = await this.#shelf.read(id);
    const ways = kept && (await recalledHistory(kept, opened).catch(nothingWhereUnreadable));
    if (opening !== this.#openings || this.#store.document.id !== id) return;
    this.#known = id;
    if (ways !== undefined) this.#store.restore(ways.past, ways.future);
  }

  /** Keeps the edits as they stand now; called when the batch itself has been stored. */
  async keep(): Promise<void> {
    const { document } = this.#store;
    if (document.id === this.#known) await this.#shelf.put(keptHistory(document, this.#store));
  }

  async forget(id: string): Promise<void> {
    await this.#shelf.delete(id);
  }
}

function nothingWhereUnreadable(error: unknown): undefined {
  if (!(error instanceof InputError)) throw error;
}
