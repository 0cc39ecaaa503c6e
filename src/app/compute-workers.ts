import type { YieldPlan } from '../batch/plan/plan-types.ts';
import { watchLifeLock } from '../compute/life-lock.ts';
import { TaskClient, type WorkerThread } from '../compute/task-client.ts';
import type { YieldCall } from './yield-desk.ts';

let tell: (sentence: string) => void = () => undefined;

/** Says who is told in a sentence of a worker that was killed in the middle of a question. */
export function tellOfKilledWorkers(teller: (sentence: string) => void): void {
  tell = teller;
}

/** A worker that runs any task by its name. */
export function startWorker(): WorkerThread {
  const worker = new Worker(new URL('../compute/worker.ts', import.meta.url), {
    type: 'module',
    name: 'coatwright',
  });
  watchLifeLock(worker);
  return Object.assign(worker, { askedAgain: (sentence: string) => tell(sentence) });
}

/** Yields computed in a worker of their own, so that neither edits nor searches wait for them. */
export function yieldInWorker(): YieldCall {
  const client = new TaskClient(startWorker);
  return (batch, signal) => client.ask<YieldPlan>('yield', { batch }, { signal });
}
