/** An edited batch that had not reached storage yet when it was noted. */
export interface UnsavedBatch {
  readonly id: string;
  /** The revision that storage held when the batch was edited. */
  readonly revision: number;
  /** The `savedAt` of a saving that was under way then: where it came through, the edits follow that one. */
  readonly saving?: number;
  readonly text: string;
}

/** Where edits are noted the moment they are made, before storage has them. */
export interface CrashJournal {
  note(unsaved: UnsavedBatch): boolean;
  /** What a window that is gone has left behind of a batch. */
  left(id: string): Promise<UnsavedBatch | undefined>;
  clear(id: string): void;
}

/** A text longer than this is not noted: the browser gives all notes together about 5 million characters. */
const MOST_CHARACTERS = 1_000_000;
const PREFIX = 'coatwright-unsaved:';

/**
 * Notes in the page's local storage, which is written at once and outlives a window that is killed. Each note names its window,
 * which holds a lock of that name as long as it lives: what another living window has noted is left to it.
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
      localStorage.setItem(PREFIX + unsaved.id, JSON.stringify({ ...unsaved, window: this.#window }));
      return true;
    } catch {
      return false;
    }
  }

  async left(id: string): Promise<UnsavedBatch | undefined> {
    const noted = read(id);
    if (noted === undefined || noted.window === this.#window) return undefined;
    const { held = [] } = (await navigator.locks?.query()) ?? {};
    return held.some(({ name }) => name === noted.window) ? undefined : noted;
  }

  clear(id: string): void {
    try {
      localStorage.removeItem(PREFIX + id);
    } catch {
      // nothing was noted where nothing may be kept
    }
  }
}

function read(id: string): (UnsavedBatch & { window: string }) | undefined {
  try {
    const noted = JSON.parse(localStorage.getItem(PREFIX + id) ?? 'null') as Record<string, unknown> | null;
    const { revision, saving, text, window } = noted ?? {};
    if (typeof revision !== 'number' || typeof text !== 'string' || typeof window !== 'string')
      return undefined;
    return { id, revision, text, window, ...(typeof saving === 'number' ? { saving } : {}) };
  } catch {
    return undefined;
  }
}
