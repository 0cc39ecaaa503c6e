import type { Pause, SearchFindings, SearchJob } from '../design/search/search-job.ts';
import type { SearchProblem } from '../design/search/search-problem.ts';
import type { BlockResult, TrialBlock } from '../design/tolerance/run-trials.ts';
import type { TrialPlan } from '../design/tolerance/trial-plan.ts';
import { KERNELS } from './kernels.ts';
import type { RehearseRequest } from './rehearse/rehearse-shapes.ts';
import type { RunSpan, RunsFound } from './rehearse/virtual-runs.ts';

/** The kernels by name: what each shares among its inputs, takes, and gives. All of it is plain data. */
export interface KernelTypes {
  'search-job': { shared: SearchProblem; input: SearchJob; output: SearchFindings };
  'tolerance-trials': { shared: TrialPlan; input: TrialBlock; output: BlockResult };
  'virtual-runs': { shared: RehearseRequest; input: RunSpan; output: RunsFound };
}

export type KernelName = keyof KernelTypes;

/** A pure function that may run on any thread: what it gives depends on its arguments alone. */
export type Kernel<Name extends KernelName> = (
  shared: KernelTypes[Name]['shared'],
  input: KernelTypes[Name]['input'],
  pause: Pause,
) => KernelTypes[Name]['output'] | Promise<KernelTypes[Name]['output']>;

/**
 * Runs a kernel on every input and gives the outputs in the order of the inputs. How many threads there are doesn't
 * show in the answer. Rejects when `signal` aborts, with its reason. `finished` hears after each output how many there are.
 */
export type Spread = <Name extends KernelName>(
  kernel: Name,
  shared: KernelTypes[Name]['shared'],
  inputs: readonly KernelTypes[Name]['input'][],
  signal?: AbortSignal,
  finished?: (count: number) => void,
) => Promise<KernelTypes[Name]['output'][]>;

/** Runs the inputs one after the other on this thread, which stays able to hear an abort. */
export const spreadInline: Spread = async (name, shared, inputs, signal, finished) => {
  const kernel = await KERNELS[name]();
  const pause = breathe(signal);
  const outputs = [];
  for (const input of inputs) {
    await pause();
    outputs.push(await kernel(shared, input, pause));
    finished?.(outputs.length);
  }
  return outputs;
};

/** Longest time in ms that the thread is kept from its events. */
const BREATH_MS = 40;

/** A pause that lets events in now and then, and throws the signal's reason once it has aborted. */
export function breathe(signal?: AbortSignal): Pause {
  let last = performance.now();
  return () => {
    signal?.throwIfAborted();
    if (performance.now() - last < BREATH_MS) return undefined;
    return new Promise((resolve, reject) => {
      setTimeout(() => {
        last = performance.now();
        if (signal?.aborted) reject(signal.reason);
        else resolve();
      }, 0);
    });
  };
}
