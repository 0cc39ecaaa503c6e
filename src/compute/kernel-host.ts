import { useCompiledKernels } from '../optics/simd/compiled-kernels.ts';
import { KERNELS } from './kernels.ts';
import type { Kernel, KernelName } from './spread.ts';
import type { KernelAnswer, KernelOrder } from './thread-pool.ts';

/**
 * A thread's side of the pool: takes orders and answers each input. Orders are worked off one after the other, in the
 * order in which they came.
 */
export function hostKernels(answer: (answer: KernelAnswer) => void): (order: KernelOrder) => void {
  useCompiledKernels();
  let kernel: Promise<Kernel<KernelName>> | undefined;
  let shared: unknown;
  let before: Promise<void> = Promise.resolve();
  const run = async (order: KernelOrder): Promise<void> => {
    if (order.kind === 'shared') {
      kernel = KERNELS[order.kernel]() as Promise<Kernel<KernelName>>;
      shared = order.shared;
      return;
    }
    const { place, input } = order;
    try {
      const output = await (await kernel!)(shared as never, input as never, () => undefined);
      answer({ kind: 'output', place, output });
    } catch (error) {
      answer({ kind: 'failed', place, message: error instanceof Error ? error.message : String(error) });
    }
  };
  return (order) => {
    before = before.then(() => run(order));
  };
}
