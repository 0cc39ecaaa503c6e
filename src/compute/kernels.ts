import type { Kernel, KernelName } from './spread.ts';

/** Every kernel by its name, loaded when first asked for. */
export const KERNELS: { readonly [Name in KernelName]: () => Promise<Kernel<Name>> } = {
  'search-job': async () => (await import('../design/search/search-job.ts')).runSearchJob,
  'tolerance-trials': async () => (await import('../design/tolerance/run-trials.ts')).runTrials,
  'virtual-runs': async () => (await import('./rehearse/virtual-runs.ts')).virtualRuns,
};
