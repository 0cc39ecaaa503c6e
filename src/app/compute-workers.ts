import type { YieldPlan } from '../batch/plan/plan-types.ts';
import { TaskClient, type WorkerThread } from '../compute/task-client.ts';
import type { YieldCall } from './yield-desk.ts';

/** A worker that runs any task by its name. */
export function startWorker(): WorkerThread {
  return new Worker(new URL('../compute/worker.ts', import.meta.url), { type: 'module', name: 'coatwright' });
}

/** Yields computed in a worker of their own, so that neither edits nor searches wait for them. */
export function yieldInWorker(): YieldCall {
  const client = new TaskClient(startWorker);
  return (batch, signal) => client.ask<YieldPlan>('yield', { batch }, { signal });
}
