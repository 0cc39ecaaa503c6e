import { Worker } from 'node:worker_threads';
import type { Outcome } from '../compute/answer-request.ts';
import type { Terminal } from './terminal.ts';

/** What the thread of a task is given. */
export interface ThreadOrder {
  readonly name: string;
  readonly request: unknown;
  readonly wantsPapers: boolean;
}

/** What the thread of a task sends back. */
export type ThreadMessage =
  | { readonly kind: 'progress'; readonly fraction: number; readonly doing: string }
  | { readonly kind: 'outcome'; readonly outcome: Outcome };

/**
 * Runs a task in a thread of its own, so that an interrupt and the progress bar are served at once however
 * busy the task is.
 */
export const runInThread: Terminal['runTask'] = (name, request, wantsPapers, progress) =>
  new Promise((resolve) => {
    const order: ThreadOrder = { name, request, wantsPapers };
    const script = new URL('task-thread.js', import.meta.url); // beside this file once it is built
    const thread = new Worker(script, { workerData: order });
    thread.on('message', (message: ThreadMessage) => {
      if (message.kind === 'progress') progress?.(message.fraction, message.doing);
      else resolve(message.outcome);
    });
    thread.on('error', (error) => resolve({ kind: 'own-fault', message: error.message }));
    thread.on('exit', (code) =>
      resolve({ kind: 'own-fault', message: `the task's thread ended early with code ${code}` }),
    );
  });
