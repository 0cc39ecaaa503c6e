import type { KernelName, Spread } from './spread.ts';

/** What the pool needs of a thread that runs kernels: the adapters for Node and for the browser give it. */
export interface KernelThread {
  post(order: KernelOrder): void;
  /** Called with every answer. */
  onAnswer: (answer: KernelAnswer) => void;
  /** Called when the thread broke down or ended. */
  onBroken: (reason: string) => void;
  /** A busy thread keeps the program alive, an idle one doesn't. */
  setBusy(isBusy: boolean): void;
  end(): void;
}

/** What is sent to a thread: what a kernel shares, once, then its inputs one by one. */
export type KernelOrder =
  | { readonly kind: 'shared'; readonly kernel: KernelName; readonly shared: unknown }
  | { readonly kind: 'input'; readonly place: number; readonly input: unknown };

export type KernelAnswer =
  | { readonly kind: 'output'; readonly place: number; readonly output: unknown }
  | { readonly kind: 'failed'; readonly place: number; readonly message: string };

/** How often an input is given out again after the thread that had it broke down. */
const MOST_ATTEMPTS = 2;

/**
 * Threads that run kernels on many inputs, whoever is free taking the next. They are kept for the next call. A thread
 * that breaks down is replaced and its input given out once more; an abort ends all of them at once.
 */
export class ThreadPool {
  readonly #start: () => KernelThread;
  readonly #size: number;
  #idle: KernelThread[] = [];

  /** @param size most threads at work, from 1. */
  constructor(start: () => KernelThread, size: number) {
    this.#start = start;
    this.#size = Math.max(1, Math.floor(size));
  }

  readonly spread: Spread = (kernel, shared, inputs, signal, finished) =>
    new Promise((resolve, reject) => {
      if (signal?.aborted) {
        reject(signal.reason);
        return;
      }
      const outputs: unknown[] = new Array(inputs.length);
      const waiting = inputs.map((_, place) => place).reverse();
      const attempts = new Uint8Array(inputs.length);
      const working = new Map<KernelThread, number>();
      let left = inputs.length;
      const finish = (settle: () => void, keep: boolean) => {
        signal?.removeEventListener('abort', onAbort);
        for (const thread of working.keys()) thread.end();
        working.clear();
        if (!keep) this.close();
        settle();
      };
      const onAbort = () => finish(() => reject(signal?.reason), false);
      signal?.addEventListener('abort', onAbort, { once: true });

      const release = (thread: KernelThread) => {
        working.delete(thread);
        thread.onAnswer = () => undefined;
        thread.onBroken = () => this.#forget(thread);
        thread.setBusy(false);
        this.#idle.push(thread);
      };
      const feed = (thread: KernelThread) => {
        const place = waiting.pop();
        if (place === undefined) {
          release(thread);
          return;
        }
        working.set(thread, place);
        attempts[place]! += 1;
        thread.post({ kind: 'input', place, input: inputs[place] });
      };
      const engage = () => {
        const thread = this.#idle.pop() ?? this.#start();
        thread.onAnswer = (answer) => {
          if (working.get(thread) !== answer.place) return;
          if (answer.kind === 'failed') {
            working.delete(thread);
            thread.end();
            finish(() => reject(new Error(answer.message)), true);
            return;
          }
          outputs[answer.place] = answer.output;
          left--;
          finished?.(inputs.length - left);
          feed(thread);
          if (left === 0) finish(() => resolve(outputs as never), true);
        };
        thread.onBroken = (reason) => {
          const place = working.get(thread);
          working.delete(thread);
          if (place === undefined) return;
          if (attempts[place]! >= MOST_ATTEMPTS) {
            finish(() => reject(new Error(`a helping thread broke down: ${reason}`)), true);
            return;
          }
          waiting.push(place);
          engage();
        };
        thread.setBusy(true);
        thread.post({ kind: 'shared', kernel, shared });
        feed(thread);
      };
      if (left === 0) finish(() => resolve([]), true);
      for (let count = Math.min(this.#size, inputs.length); count > 0; count--) engage();
    });

  /** Ends the idle threads; the next call starts new ones. */
  close(): void {
    for (const thread of this.#idle) thread.end();
    this.#idle = [];
  }

  #forget(thread: KernelThread): void {
    this.#idle = this.#idle.filter((other) => other !== thread);
  }
}
