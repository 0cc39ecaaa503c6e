import * as Comlink from 'comlink';
import { unreachable } from '../base/assert.ts';
import { InputError } from '../base/errors.ts';
import type { Progress, WorkerApi, WorkerOutcome } from './worker-api.ts';

/**
 * What the client needs of a worker: the browser's `Worker` has it. An event `gone` says that the worker has ended without
 * having been told to; who makes the worker sees to it (`life-lock.ts`).
 */
export interface WorkerThread extends Comlink.Endpoint {
  terminate(): void;
  /** Told in a sentence that the worker was killed with a question open, which another one is asked now. */
  askedAgain?(sentence: string): void;
}

export interface AskOptions {
  readonly signal?: AbortSignal;
  readonly progress?: (fraction: number, doing: string) => void;
  /** After this time without an answer or a sign of progress the worker counts as hung and is replaced. Default 120 s. */
  readonly hungAfterMs?: number;
}

/** The worker failed: nothing the user typed was wrong. The message is a sentence for the screen. */
export class WorkerFault extends Error {
  override name = 'WorkerFault';
}

/** The worker has ended by itself or was ended from outside. */
class WorkerGone extends WorkerFault {
  constructor() {
    super('the calculation was ended from outside, perhaps for want of memory');
  }
}

/** How long a task may take to stop by itself before its worker is ended. */
const GRACE_MS = 150;
const HUNG_AFTER_MS = 120_000;

type Question = readonly [name: string, request: unknown, options: AskOptions, signal: AbortSignal];

/** A worker that lives, and what is to be done when it breaks down. */
interface Live {
  readonly thread: WorkerThread;
  readonly api: Comlink.Remote<WorkerApi>;
  onBroken: (fault: WorkerFault) => void;
}

/**
 * One line of questions to a worker, the newest first: a new question ends the one before, whose promise is rejected
 * with an `AbortError`. A worker that throws or hangs is replaced by a new one at the next question. The question of one that
 * is killed goes to a new one at once, but not a second time: it may be the question that kills.
 */
export class TaskClient {
  readonly #start: () => WorkerThread;
  #live: Live | undefined;
  #asked: AbortController | undefined;
  /** Resolves when the worker has done with the question before, or is gone. */
  #idle: Promise<unknown> = Promise.resolve();

  /** @param start makes a worker that runs `worker.ts`. */
  constructor(start: () => WorkerThread) {
    this.#start = start;
  }

  /**
   * Runs a task in the worker.
   * @throws InputError where the request is wrong, WorkerFault where the worker failed, the signal's reason where it
   * was stopped.
   */
  async ask<Answer>(name: string, request: unknown, options: AskOptions = {}): Promise<Answer> {
    this.#asked?.abort(new DOMException('a newer question came', 'AbortError'));
    const own = new AbortController();
    this.#asked = own;
    const signal = options.signal === undefined ? own.signal : AbortSignal.any([own.signal, options.signal]);
    await this.#idle;
    signal.throwIfAborted();
    const job = this.#runTwice(name, request, options, signal);
    this.#idle = job.catch(() => undefined);
    return answerOf<Answer>(await orAborted(job, signal));
  }

  /** Ends the worker; the next question starts a new one. */
  close(): void {
    if (this.#live !== undefined) this.#end(this.#live, new WorkerFault('the worker was closed'));
  }

  /** One question, to a second worker where the first one is killed. */
  async #runTwice(...[name, request, options, signal]: Question): Promise<WorkerOutcome> {
    const { thread } = this.#living();
    try {
      return await this.#run(name, request, options, signal);
    } catch (error) {
      if (!(error instanceof WorkerGone) || signal.aborted) throw error;
      thread.askedAgain?.(`${error.message}; it has begun anew`);
      return this.#run(name, request, options, signal);
    }
  }

  /** One question to the worker, with its watchers: settles when the worker has done with it or is gone. */
  async #run(...[name, request, options, signal]: Question): Promise<WorkerOutcome> {
    const live = this.#living();
    const { progress, hungAfterMs = HUNG_AFTER_MS } = options;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const endAfter = (ms: number, sentence: string) => {
      clearTimeout(timer);
      timer = setTimeout(() => this.#end(live, new WorkerFault(sentence)), ms);
    };
    const watch = () =>
      endAfter(hungAfterMs, `the calculation gave no answer within ${hungAfterMs / 1000} s and was ended`);
    const stop = () => {
      if (this.#live !== live) return;
      void live.api.stop();
      endAfter(GRACE_MS, 'the calculation was stopped');
    };
    // A port of our own: one that Comlink makes for a function would stay open where its worker is ended, with all that it holds.
    const { port1: told, port2: tell } = new MessageChannel();
    const hear = (event: Event) => {
      if (!signal.aborted) watch();
      progress?.(...(event as Event & { data: Progress }).data);
    };
    told.addEventListener('message', hear);
    told.start();
    signal.addEventListener('abort', stop, { once: true });
    watch();
    try {
      return await new Promise<WorkerOutcome>((resolve, reject) => {
        live.onBroken = reject;
        live.api.run(name, request, Comlink.transfer(tell, [tell])).then(resolve, reject);
      });
    } finally {
      signal.removeEventListener('abort', stop);
      told.removeEventListener('message', hear);
      told.close();
      clearTimeout(timer);
      live.onBroken = () => undefined;
    }
  }

  #living(): Live {
    if (this.#live !== undefined) return this.#live;
    const thread = this.#start();
    const live: Live = { thread, api: Comlink.wrap<WorkerApi>(thread), onBroken: () => undefined };
    thread.addEventListener('error', () =>
      this.#end(live, new WorkerFault('the calculation broke down; it will start afresh')),
    );
    thread.addEventListener('gone', () => this.#end(live, new WorkerGone()));
    this.#live = live;
    return live;
  }

  #end(live: Live, fault: WorkerFault): void {
    if (this.#live !== live) return;
    this.#live = undefined;
    live.api[Comlink.releaseProxy](); // else Comlink keeps the ended thread for good
    live.thread.terminate();
    live.onBroken(fault);
  }
}

/** The promise's value, unless the signal is aborted first. */
async function orAborted<Value>(promise: Promise<Value>, signal: AbortSignal): Promise<Value> {
  let onAbort = () => undefined as undefined;
  const aborted = new Promise<never>((_, reject) => {
    onAbort = () => void reject(signal.reason);
    signal.addEventListener('abort', onAbort, { once: true });
  });
  try {
    return await Promise.race([promise, aborted]);
  } finally {
    signal.removeEventListener('abort', onAbort);
  }
}

function answerOf<Answer>(outcome: WorkerOutcome): Answer {
  switch (outcome.kind) {
    case 'answer':
      return outcome.answer as Answer;
    case 'wrong-request':
      throw new InputError(outcome.path, outcome.reason);
    case 'stopped':
      throw new DOMException('the calculation was stopped', 'AbortError');
    case 'own-fault':
      throw new WorkerFault(outcome.message);
    default:
      return unreachable(outcome);
  }
}
