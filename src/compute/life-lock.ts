/** What this file needs of the browser, whose own types it is compiled without. Without a secure page there are no locks. */
interface Locks {
  request(name: string, held: () => unknown): Promise<unknown>;
}
declare const navigator: { readonly locks?: Locks } | undefined;
declare const crypto: { randomUUID(): string };

/** A worker's word that it holds the lock of this name until it ends. */
export interface LifeLock {
  readonly lifeLock: string;
}

const locks = typeof navigator === 'undefined' ? undefined : navigator.locks;

/**
 * Has this worker hold a lock for as long as it lives, and say so: the browser lets the lock go when the worker ends, however it
 * ends, busy or not.
 */
export function holdLifeLock(post: (message: LifeLock) => void): void {
  if (locks === undefined) return;
  const lifeLock = `coatwright-worker-${crypto.randomUUID()}`;
  const held = () => {
    post({ lifeLock });
    return new Promise(() => undefined);
  };
  locks.request(lifeLock, held).catch(() => undefined); // where storage is blocked there are no locks either
}

/** Waits for the lock that a worker holds, and tells the thread with an event `gone` that it has ended. */
export function watchLifeLock(thread: EventTarget): void {
  thread.addEventListener('message', (event: unknown) => {
    const { lifeLock } = ((event as { data?: unknown }).data ?? {}) as Partial<LifeLock>;
    if (lifeLock === undefined) return;
    locks?.request(lifeLock, () => void thread.dispatchEvent(new Event('gone'))).catch(() => undefined);
  });
}
