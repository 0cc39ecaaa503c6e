import { type LifeLock, watchLifeLock } from './life-lock.ts';
import { type Spread, spreadInline } from './spread.ts';
import { type KernelAnswer, type KernelThread, ThreadPool } from './thread-pool.ts';

/** What this file needs of the browser, whose own types it is compiled without. */
interface WebWorker extends EventTarget {
  postMessage(message: unknown): void;
  terminate(): void;
  onmessage: (event: { readonly data: KernelAnswer | LifeLock }) => void;
  onerror: (event: { readonly message?: string }) => void;
}
declare const Worker: (new (script: URL, options: { type: 'module'; name: string }) => WebWorker) | undefined;
declare const navigator: { readonly hardwareConcurrency?: number } | undefined;

/** More threads than this bring little: a round of a search has eight jobs. */
const MOST_THREADS = 8;

/**
 * Spreads kernels over workers of this page or worker; on this thread where the browser has no workers here.
 * @param size most workers, from 1; default one for each of the machine's cores, eight at most.
 */
export function browserSpread(size = Math.min(cores(), MOST_THREADS)): Spread {
  if (typeof Worker === 'undefined') return spreadInline;
  return new ThreadPool(startKernelWorker, size).spread;
}

function cores(): number {
  return (typeof navigator === 'undefined' ? undefined : navigator.hardwareConcurrency) || 2;
}

function startKernelWorker(): KernelThread {
  const worker = new Worker!(new URL('./kernel-worker.ts', import.meta.url), {
    type: 'module',
    name: 'coatwright-kernel',
  });
  const thread: KernelThread = {
    post: (order) => worker.postMessage(order),
    onAnswer: () => undefined,
    onBroken: () => undefined,
    setBusy: () => undefined,
    end: () => worker.terminate(),
  };
  worker.onmessage = ({ data }) => {
    if ('kind' in data) thread.onAnswer(data);
  };
  worker.onerror = ({ message }) => thread.onBroken(message || 'it could not be started');
  watchLifeLock(worker);
  worker.addEventListener('gone', () => thread.onBroken('it was ended from outside'));
  return thread;
}
