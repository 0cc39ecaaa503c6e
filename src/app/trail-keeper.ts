import { appendEntry } from '../batch/audit-trail.ts';
import type { Batch, RunRecord } from '../batch/document.ts';
import { touchedRuns } from '../batch/run-changes.ts';
import type { DocumentStore, Edit } from './document-store.ts';

/** What stands in place of initials where a run's record has none. */
export const UNSIGNED = 'unsigned';
/** Typing is one entry once it has rested for so long. */
const REST_MS = 1600;

interface Touch {
  readonly key: string;
  readonly did: string;
  readonly runs: readonly RunRecord[];
}

/**
 * Writes into the batch's trail what is done to the run log: each edit of a record, its undoing and its removal, signed with
 * the initials that the record carries. No undo takes an entry away.
 */
export class TrailKeeper {
  readonly #store: DocumentStore<Batch>;
  readonly #written: () => void;
  readonly #now: () => Date;
  #open: Touch | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;

  /** `written` is told after each entry. */
  constructor(store: DocumentStore<Batch>, written: () => void, now: () => Date = () => new Date()) {
    this.#store = store;
    this.#written = written;
    this.#now = now;
  }

  /** Takes note of a step; steps in a row with one `key` are one entry. */
  note({ name, before, after }: Edit<Batch>, key?: string): void {
    if (this.#open !== undefined && this.#open.key !== key) this.close();
    const runs = touchedRuns(before, after).map((run) => signedAs(before, run));
    clearTimeout(this.#timer);
    this.#open = undefined;
    if (runs.length === 0) return;
    if (key === undefined) {
      this.write(name, runs);
      return;
    }
    this.#open = { key, did: name, runs };
    this.#timer = setTimeout(() => this.close(), REST_MS);
  }

  /** Writes what is still open. */
  close(): void {
    clearTimeout(this.#timer);
    const open = this.#open;
    this.#open = undefined;
    if (open !== undefined) this.write(open.did, open.runs);
  }

  /** Writes an entry about some runs, or about the whole log. */
  write(did: string, runs: readonly RunRecord[] = []): void {
    const [run, ...others] = runs;
    const entry = {
      at: this.#now().toISOString(),
      by: run?.operator.trim() || UNSIGNED,
      did,
      ...(run === undefined || others.length > 0 ? {} : { run: run.number }),
    };
    this.#store.append((draft) => {
      draft.trail = appendEntry(this.#store.document.trail ?? [], entry);
    });
    this.#written();
  }
}

/** A document that is walked back or forth to, with the trail of the present one. */
export function withTrailOf({ trail }: Batch, target: Batch): Batch {
  if (trail === undefined || target.trail === trail) return target;
  return { ...target, trail };
}

/** The record with its initials; those of before where an edit or its undoing has emptied them. */
function signedAs({ runs }: Batch, run: RunRecord): RunRecord {
  if (run.operator.trim() !== '') return run;
  return { ...run, operator: runs.find(({ id }) => id === run.id)?.operator ?? '' };
}
