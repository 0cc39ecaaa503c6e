import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { Part } from '../compute/task.ts';
import type { ThreadOrder } from './run-in-thread.ts';

/** More threads than this bring little: the parts of a request are short. */
const MOST_THREADS = 16;

/**
 * Deals the parts of a long task out to as many threads as the machine has cores, in turn, and gathers what they
 * send back in the order of the parts.
 */
export async function shareOut(
  order: ThreadOrder,
  parts: readonly Part[],
  finished: (count: number) => void,
): Promise<unknown[]> {
  const threads = Math.max(1, Math.min(availableParallelism(), parts.length, MOST_THREADS));
  const results: unknown[] = new Array(parts.length);
  let count = 0;
  await Promise.all(
    Array.from(
      { length: threads },
      (_, thread) =>
        new Promise<void>((resolve, reject) => {
          const places = parts.map((_part, place) => place).filter((place) => place % threads === thread);
          const workerData: ThreadOrder = { ...order, parts: places.map((place) => parts[place]!) };
          const script = new URL('task-thread.js', import.meta.url); // beside this file once it is built
          const worker = new Worker(script, { workerData });
          let next = 0;
          worker.on('message', (result) => {
            results[places[next]!] = result;
            next++;
            finished(++count);
          });
          worker.on('error', reject);
          worker.on('exit', () => {
            if (next === places.length) resolve();
            else reject(new Error(`a helping thread ended after ${next} of ${places.length} parts`));
          });
        }),
    ),
  );
  return results;
}
