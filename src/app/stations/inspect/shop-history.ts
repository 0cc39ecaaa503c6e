import type { Batch } from '../../../batch/document.ts';
import { isSameChamber } from '../../../inspect/tooling-history.ts';
import type { Bench } from '../../bench.ts';
import { StorageError } from '../../storage/storage-port.ts';

/** Whose runs the control charts show: of all stored batches of the chamber, or of the open batch alone. */
export type ChartScope = 'chamber' | 'batch';

/** The other batches of the shelf whose run logs hold a tooling; they are read once for each batch that is opened. */
export class ShopHistory {
  readonly #bench: Bench;
  readonly #listeners = new Set<() => void>();
  scope: ChartScope = 'chamber';
  #besides: string | undefined;
  #others: readonly Batch[] = [];
  /** Titles of batches that could not be read, or why none could. */
  #unread: readonly string[] = [];
  #fault = '';

  constructor(bench: Bench) {
    this.#bench = bench;
  }

  /** The open batch first, then the others of its chamber. */
  batches(open: Batch): readonly Batch[] {
    const others = this.#besides === open.id ? this.#others : [];
    return [open, ...others.filter((batch) => batch.id !== open.id && isSameChamber(batch, open))];
  }

  /** What is missing from the history, in a sentence; '' where nothing is. */
  get missing(): string {
    if (this.#fault !== '') return `Other batches could not be read: ${this.#fault}`;
    return this.#unread.length === 0
      ? ''
      : `Not among these runs, since they could not be read: ${this.#unread.join('; ')}.`;
  }

  /** Reads the shelf anew, all batches but the one with the id `besides`. */
  async load(besides: string): Promise<void> {
    if (this.#besides === besides) return;
    this.#besides = besides;
    const { shelf } = this.#bench;
    const others: Batch[] = [];
    const unread: string[] = [];
    let fault = '';
    try {
      for (const { id, title } of await shelf.list()) {
        if (id === besides || !(await shelf.storage.read(id))?.text.includes('"corrections"')) continue;
        const taken = await shelf.take(id);
        if (taken.kind === 'batch') others.push(taken.batch);
        if (taken.kind === 'damaged') unread.push(title || id);
      }
    } catch (error) {
      if (!(error instanceof StorageError)) throw error;
      fault = error.message;
    }
    if (this.#besides !== besides) return;
    this.#others = others;
    this.#unread = unread;
    this.#fault = fault;
    this.changed();
  }

  /** The shelf is read again when it is next looked at. */
  forget(): void {
    this.#besides = undefined;
  }

  changed(): void {
    for (const listener of this.#listeners) listener();
  }

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }
}

const histories = new WeakMap<Bench, ShopHistory>();

/** The history that belongs to a bench. */
export function shopHistoryOf(bench: Bench): ShopHistory {
  const history = histories.get(bench) ?? new ShopHistory(bench);
  histories.set(bench, history);
  return history;
}
