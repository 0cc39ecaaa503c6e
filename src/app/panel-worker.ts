import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { TaskClient } from '../compute/task-client.ts';
import { startWorker } from './compute-workers.ts';

/** How far a question to the worker is. */
export interface Doing {
  readonly fraction: number;
  readonly what: string;
}

/** A panel's own worker: one question at a time, with progress, cancel and a sentence where it failed. */
export class PanelWorker implements ReactiveController {
  doing: Doing | undefined;
  /** Why there is no answer; '' where nothing went wrong. */
  fault = '';
  readonly #host: ReactiveControllerHost;
  readonly #client = new TaskClient(startWorker);
  #asked: AbortController | undefined;

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
    host.addController(this);
  }

  hostDisconnected(): void {
    this.cancel();
    this.#client.close();
  }

  /**
   * The task's answer, or undefined where it was cancelled or failed.
   * @param hungAfterMs silence after which the worker counts as hung.
   */
  async ask<Answer>(name: string, request: unknown, hungAfterMs = 600_000): Promise<Answer | undefined> {
    this.#asked?.abort();
    const asked = new AbortController();
    this.#asked = asked;
    this.#say({ fraction: 0, what: 'starting' }, '');
    try {
      const answer = await this.#client.ask<Answer>(name, request, {
        signal: asked.signal,
        hungAfterMs,
        progress: (fraction, what) => {
          if (!asked.signal.aborted) this.#say({ fraction, what }, '');
        },
      });
      if (asked.signal.aborted) return undefined;
      this.#say(undefined, '');
      return answer;
    } catch (error) {
      if (!asked.signal.aborted) this.#say(undefined, error instanceof Error ? error.message : String(error));
      return undefined;
    }
  }

  cancel(): void {
    this.#asked?.abort();
    this.#say(undefined, '');
  }

  #say(doing: Doing | undefined, fault: string): void {
    this.doing = doing;
    this.fault = fault;
    this.#host.requestUpdate();
  }
}
