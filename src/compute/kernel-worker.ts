import { hostKernels } from './kernel-host.ts';
import { holdLifeLock } from './life-lock.ts';
import type { KernelOrder } from './thread-pool.ts';

/** What this file needs of a worker's global scope; it is compiled without the browser's own types. */
interface WorkerScope {
  postMessage(message: unknown): void;
  onmessage: (event: { readonly data: KernelOrder }) => void;
}

const scope = globalThis as unknown as WorkerScope;
holdLifeLock((message) => scope.postMessage(message));
const take = hostKernels((answer) => scope.postMessage(answer));
scope.onmessage = ({ data }) => take(data);
