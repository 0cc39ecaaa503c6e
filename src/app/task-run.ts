import { TaskClient, type WorkerThread } from '../compute/task-client.ts';

/** A question that is being answered, and how far it is. */
export interface Running {
  readonly kind: 'running';
  readonly fraction: number;
  readonly doing: string;
}

/** How a question to a worker stands. */
export type TaskState =
  | { readonly kind: 'none' }
  | Running
  | { readonly kind: 'stopped' }
  | { readonly kind: 'fault'; readonly sentence: string }
  | { readonly kind: 'answered'; readonly tookS: number };

/** An edit is followed by its question after this pause, so that dragging asks once. */
const PAUSE_MS = 150;

/** One question at a time to a worker of its own, which starts with the first question. */
export class TaskRun<Answer> {
  readonly #client: TaskClient;
  readonly #task: string;
  readonly #changed: () => void;
  readonly #hungAfterMs: number | undefined;
  #asked: AbortController | undefined;
  #followed = '';
  #timer: ReturnType<typeof setTimeout> | undefined;
  #state: TaskState = { kind: 'none' };
  #answer: Answer | undefined;
  #before: Answer | undefined;

  /**
   * @param changed is called whenever `state` is another one.
   * @param hungAfterMs silence after which the worker counts as hung; where left out, what `TaskClient` takes.
   */
  constructor(task: string, startWorker: () => WorkerThread, changed: () => void, hungAfterMs?: number) {
    this.#task = task;
    this.#client = new TaskClient(startWorker);
    this.#changed = changed;
    this.#hungAfterMs = hungAfterMs;
  }

  get state(): TaskState {
    return this.#state;
  }

  /** How far the question is; undefined where none is being answered. */
  get running(): Running | undefined {
    return this.#state.kind === 'running' ? this.#state : undefined;
  }

  /** Why there is no answer, as a sentence; '' where nothing went wrong. */
  get fault(): string {
    return this.#state.kind === 'fault' ? this.#state.sentence : '';
  }

  /** The last answer; while another question is running it is out of date. */
  get answer(): Answer | undefined {
    return this.#answer;
  }

  /** The answer before the last one, to show the change against. */
  get before(): Answer | undefined {
    return this.#before;
  }

  /** Asks; what was asked before is dropped. Answers undefined where there is no answer: `state` says why. */
  async ask(request: object): Promise<Answer | undefined> {
    this.#asked?.abort();
    clearTimeout(this.#timer);
    const asked = new AbortController();
    this.#asked = asked;
    const begun = performance.now();
    this.#show({ kind: 'running', fraction: 0, doing: 'starting' });
    try {
      const answer = await this.#client.ask<Answer>(this.#task, request, {
        signal: asked.signal,
        ...(this.#hungAfterMs === undefined ? {} : { hungAfterMs: this.#hungAfterMs }),
        progress: (fraction, doing) => {
          if (!asked.signal.aborted && this.#state.kind === 'running')
            this.#show({ kind: 'running', fraction, doing });
        },
      });
      if (asked.signal.aborted) return undefined;
      this.#before = this.#answer;
      this.#answer = answer;
      this.#show({ kind: 'answered', tookS: (performance.now() - begun) / 1000 });
      return answer;
    } catch (error) {
      if (asked.signal.aborted) return undefined;
      this.#answer = undefined;
      this.#before = undefined;
      this.#show({ kind: 'fault', sentence: sentenceOf(error) });
      return undefined;
    }
  }

  /** Asks after a short pause where the request is another one than that followed last. */
  follow(request: object): void {
    const text = JSON.stringify(request);
    if (text === this.#followed) return;
    this.#followed = text;
    this.#asked?.abort();
    clearTimeout(this.#timer);
    this.#state = { kind: 'running', fraction: 0, doing: 'waiting for the last edit' };
    this.#timer = setTimeout(() => void this.ask(request), PAUSE_MS);
  }

  /** Drops the question; the state says so at once. */
  cancel(): void {
    if (this.#state.kind !== 'running') return;
    clearTimeout(this.#timer);
    this.#asked?.abort();
    this.#show({ kind: 'stopped' });
  }

  /** Forgets question and answer, as when another batch is opened. */
  forget(): void {
    clearTimeout(this.#timer);
    this.#asked?.abort();
    this.#followed = '';
    this.#answer = undefined;
    this.#before = undefined;
    this.#state = { kind: 'none' };
  }

  /** Ends the worker, as when nobody will look at an answer; the next question starts another. */
  close(): void {
    this.forget();
    this.#client.close();
  }

  #show(state: TaskState): void {
    this.#state = state;
    this.#changed();
  }
}

/** An error as a sentence for the screen. */
export function sentenceOf(error: unknown): string {
  const words = (error instanceof Error ? error.message : String(error)).replace(/\.$/, '');
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;
}
