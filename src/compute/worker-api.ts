import { InputError } from '../base/errors.ts';
import { prepareFor } from '../materials/prepare.ts';
import { runTask, type TaskContext } from './task.ts';
import { TASKS } from './tasks.ts';

/** What became of a question put to a worker; plain data that can cross threads, typed arrays included. */
export type WorkerOutcome =
  | { readonly kind: 'answer'; readonly answer: unknown }
  | { readonly kind: 'wrong-request'; readonly path: string; readonly reason: string }
  | { readonly kind: 'stopped' }
  | { readonly kind: 'own-fault'; readonly message: string };

/** How far a task is, as a fraction, and what it does. */
export type Progress = readonly [fraction: number, doing: string];

/** A port that takes news of a task's progress. */
interface ProgressPort {
  postMessage(told: Progress): void;
}

/** What a worker offers to its client. */
export interface WorkerApi {
  /** @param progress is told while the task is under way; the asker closes it. */
  run(name: string, request: unknown, progress?: ProgressPort): Promise<WorkerOutcome>;
  /** Asks the running task to stop; it does so when it next gives other work a turn. */
  stop(): void;
}

/** The worker's side: one task at a time, by its name. `tools` are what tasks may use besides. */
export function createWorkerApi(tools: Pick<TaskContext, 'spread'> = {}): WorkerApi {
  let running: AbortController | undefined;
  return {
    async run(name, request, progress) {
      const own = new AbortController();
      running = own;
      try {
        const load = TASKS[name];
        if (load === undefined) return { kind: 'own-fault', message: `there is no task "${name}"` };
        const task = await load();
        await prepareFor(request);
        const tell = (...told: Progress) => progress?.postMessage(told);
        const context = { ...tools, signal: own.signal, progress: tell };
        return { kind: 'answer', answer: await runTask(task, request, context) };
      } catch (error) {
        if (own.signal.aborted) return { kind: 'stopped' };
        if (error instanceof InputError)
          return { kind: 'wrong-request', path: error.path, reason: error.reason };
        return { kind: 'own-fault', message: error instanceof Error ? error.message : String(error) };
      }
    },
    stop() {
      running?.abort();
    },
  };
}
