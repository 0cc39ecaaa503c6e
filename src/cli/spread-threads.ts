import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { type KernelThread, ThreadPool } from '../compute/thread-pool.ts';

/** More threads than this bring little: a round of a search has eight jobs. */
const MOST_THREADS = 8;

/**
 * A pool of Node's threads for kernels.
 * @param script beside this file once it is built; tests give their own.
 */
export function threadPool(
  size = Math.min(availableParallelism(), MOST_THREADS),
  script = new URL('kernel-thread.js', import.meta.url),
): ThreadPool {
  return new ThreadPool(() => startThread(script), size);
}

function startThread(script: URL): KernelThread {
  const worker = new Worker(script);
  const thread: KernelThread = {
    post: (order) => worker.postMessage(order),
    onAnswer: () => undefined,
    onBroken: () => undefined,
    setBusy: (isBusy) => (isBusy ? worker.ref() : worker.unref()),
    end: () => void worker.terminate(),
  };
  worker.on('message', (answer) => thread.onAnswer(answer));
  worker.on('error', (error) => thread.onBroken(error instanceof Error ? error.message : String(error)));
  worker.on('exit', (code) => thread.onBroken(`it ended with code ${code}`));
  return thread;
}
