import type { NoticeBoard } from '../notice.ts';
import { TAKE_OVER } from './take-over.ts';

/** Whether the program starts without a network: it does, it is being stored for that, or this browser stores none. */
export type OfflineState = 'ready' | 'storing' | 'impossible';

/** What the updates need of the page. */
export interface UpdateHost {
  readonly notices: NoticeBoard;
  /** Stores what waits; answers whether everything is safe now. */
  save(): Promise<boolean>;
  reload(): void;
  /** Called when `offline` is another one. */
  changed(): void;
}

/** A window that stays open for days asks this often whether there is a newer version. */
const ASK_EVERY_MS = 3_600_000;

const ID = 'new-version';

/**
 * Stores the program for work without a network, and offers a newer version once that is stored: it starts on the
 * reader's word, after every edit has been saved, and only in the window where he said so.
 */
export class ProgramUpdates {
  readonly #container: ServiceWorkerContainer;
  readonly #host: UpdateHost;
  #registration: ServiceWorkerRegistration | undefined;
  #offline: OfflineState = 'storing';
  #isWanted = false;

  /** `container` is the page's `navigator.serviceWorker`. */
  constructor(container: ServiceWorkerContainer, host: UpdateHost) {
    this.#container = container;
    this.#host = host;
  }

  get offline(): OfflineState {
    return this.#offline;
  }

  /** Begins; `address` is the service worker's. Where the browser refuses it, the program works with a network only. */
  async start(address: string): Promise<void> {
    let { controller } = this.#container;
    this.#container.addEventListener('controllerchange', () => {
      if (controller !== null || this.#isWanted) void this.#onTaken();
      ({ controller } = this.#container);
    });
    try {
      const registration = await this.#container.register(address);
      this.#registration = registration;
      const { active, waiting, installing } = registration;
      if (active !== null) this.#show('ready');
      if (waiting !== null && active !== null) this.#offer();
      if (installing !== null) this.#watch(installing);
      registration.addEventListener('updatefound', () => this.#watch(registration.installing));
    } catch {
      this.#show('impossible');
      return;
    }
    // Without a network there is no newer version to be had.
    setInterval(() => void this.#registration?.update().catch(() => undefined), ASK_EVERY_MS);
  }

  #watch(worker: ServiceWorker | null): void {
    worker?.addEventListener('statechange', () => {
      const { waiting, active } = this.#registration ?? {};
      if (worker.state === 'activated') this.#show('ready');
      if (worker.state === 'installed' && waiting === worker && active) this.#offer();
    });
  }

  #offer(): void {
    this.#post('A new version is ready.', 'Save and start the new version');
  }

  async #take(): Promise<void> {
    if (!(await this.#host.save())) {
      this.#post('The new version was not started: the last edits could not be saved yet.', 'Try again');
      return;
    }
    this.#isWanted = true;
    const waiting = this.#registration?.waiting;
    if (waiting) waiting.postMessage(TAKE_OVER);
    else this.#host.reload();
  }

  /** A newer version serves the windows from now on. What runs in this one stays until its reader says so. */
  async #onTaken(): Promise<void> {
    if (!this.#isWanted) {
      const text = 'A new version was started in another window; this one still runs the version before.';
      this.#post(text, 'Save and start the new version');
      return;
    }
    // Once more, for what was typed while the new version was taking over.
    if (await this.#host.save()) this.#host.reload();
  }

  #post(text: string, label: string): void {
    const actions = [{ label, run: () => void this.#take() }];
    this.#host.notices.post({ id: ID, kind: 'news', text, actions });
  }

  #show(state: OfflineState): void {
    this.#offline = state;
    this.#host.changed();
  }
}
