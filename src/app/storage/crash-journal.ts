/** An edited batch that had not reached storage yet when it was noted. */
export interface UnsavedBatch {
  readonly id: string;
  /** The revision that storage held when the batch was edited. */
  readonly revision: number;
  /** The `savedAt` of a saving that was under way then: where it came through, the edits follow that one. */
  readonly saving?: number;
  readonly text: string;
}

/** What a window that is gone has left behind. */
export interface LeftNote extends UnsavedBatch {
  /** Forgets the note: its edits are stored, or no longer wanted. */
  forget(): void;
}

/** Where edits are noted the moment they are made, before storage has them. */
export interface CrashJournal {
  note(unsaved: UnsavedBatch): boolean;
  /** What windows that are gone have left behind of a batch. */
  left(id: string): Promise<LeftNote[]>;
  /** Forgets this window's own note of a batch. */
  clear(id: string): void;
}

/** A text longer than this is not noted: the browser gives all notes together about 5 million characters. */
const MOST_CHARACTERS = 1_000_000;
const PREFIX = 'coatwright-unsaved:';

/**
 * Notes in the page's local storage, which is written at once and outlives a window that is killed. Each window writes its own
 * and holds a lock of its name as long as it lives: what another living window has noted is left to it.
 */
export class LocalJournal implements CrashJournal {
  readonly #window = crypto.randomUUID();

  constructor() {
    void navigator.locks?.request(this.#window, () => new Promise(() => undefined)).catch(() => undefined);
  }

  /** Notes a batch; false where it is too long or the browser has no room, so that it must be stored at once. */
  note(unsaved: UnsavedBatch): boolean {
    if (unsaved.text.length > MOST_CHARACTERS) return false;
    try {
      localStorage.setItem(this.#keyOf(unsaved.id), JSON.stringify({ ...unsaved, window: this.#window }));
      return true;
    } catch {
      return false;
    }
  }

  async left(id: string): Promise<LeftNote[]> {
    const { held = [] } = (await navigator.locks?.query()) ?? {};
    const living = new Set([this.#window, ...held.map(({ name }) => name)]);
    return keysOf(id).flatMap((key) => {
      const { window, ...noted } = read(id, key);
      return living.has(window) ? [] : [{ ...noted, forget: () => remove(key) }];
    });
  }

  clear(id: string): void {
    remove(this.#keyOf(id));
  }

  #keyOf(id: string): string {
    return `${PREFIX}${id}:${this.#window}`;
  }
}

function keysOf(id: string): string[] {
  try {
    return Object.keys(localStorage).filter((key) => key.startsWith(`${PREFIX}${id}:`));
  } catch {
    return [];
  }
}

function remove(key: string): void {
  try {
    localStorage.removeItem(key);
  } catch {
    // nothing was noted where nothing may be kept
  }
}

/** A note; one that was damaged by hand has its whole text, which is no batch. */
function read(id: string, key: string): UnsavedBatch & { window: string | undefined } {
  const raw = localStorage.getItem(key) ?? '';
  try {
    const { revision, saving, text, window } = JSON.parse(raw) as Record<string, unknown>;
    if (typeof revision === 'number' && typeof text === 'string' && typeof window === 'string')
      return { id, revision, text, window, ...(typeof saving === 'number' ? { saving } : {}) };
  } catch {
    // damaged
  }
  return { id, revision: -1, text: raw, window: undefined };
}
