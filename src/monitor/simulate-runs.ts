import { Random } from '../math/random.ts';
import type { RunSetup } from './run-setup.ts';
import { VirtualRun } from './virtual-run.ts';

/** What a block of virtual runs gave, run after run: entry `run * layerCount + layer`. */
export interface RunBlock {
  readonly from: number;
  readonly to: number;
  /** True thickness on the lens, nm. */
  readonly thicknessNm: Float64Array;
  /** How each layer ended: 0 as ruled, 1 by a turn before its level came, 2 by crystal or clock standing by. */
  readonly ending: Uint8Array;
  /** How the crystal came through: 0 within its budget, 1 beyond it, 2 lost; absent where nothing is known of crystals. */
  readonly crystalState?: Uint8Array;
  /** Factor on each layer's index; absent where the index is as recorded. */
  readonly indexFactor?: Float64Array;
}

/**
 * Runs number `from` to `to - 1` of those that belong to `seed`. A run draws from its own stream of random numbers,
 * so that any split into blocks gives the same runs bit for bit.
 */
export function simulateRuns(setup: RunSetup, seed: number, from: number, to: number): RunBlock {
  const count = setup.layers.length;
  const root = new Random(seed);
  const run = new VirtualRun(setup);
  const thicknessNm = new Float64Array((to - from) * count);
  const ending = new Uint8Array((to - from) * count);
  const crystalState = setup.crystals === undefined ? undefined : new Uint8Array((to - from) * count);
  const varied = (setup.noise.indexPercent ?? 0) > 0;
  const indexFactor = varied ? new Float64Array((to - from) * count) : undefined;
  for (let i = from; i < to; i++) {
    run.runAll(root.stream(i));
    const at = (i - from) * count;
    thicknessNm.set(run.thicknessNm, at);
    ending.set(run.ending, at);
    crystalState?.set(run.crystalState, at);
    indexFactor?.set(run.indexFactor, at);
  }
  return {
    ...{ from, to, thicknessNm, ending },
    ...(crystalState === undefined ? {} : { crystalState }),
    ...(indexFactor === undefined ? {} : { indexFactor }),
  };
}

/** Puts blocks of one simulation together, in the order of their runs. */
export function joinBlocks(blocks: readonly RunBlock[]): RunBlock {
  const sorted = [...blocks].sort((a, b) => a.from - b.from);
  const length = sorted.reduce((sum, block) => sum + block.thicknessNm.length, 0);
  const thicknessNm = new Float64Array(length);
  const ending = new Uint8Array(length);
  const crystalState = sorted[0]?.crystalState === undefined ? undefined : new Uint8Array(length);
  const varied = sorted.some((block) => block.indexFactor !== undefined);
  const indexFactor = varied ? new Float64Array(length).fill(1) : undefined;
  let at = 0;
  for (const block of sorted) {
    thicknessNm.set(block.thicknessNm, at);
    ending.set(block.ending, at);
    if (block.crystalState !== undefined) crystalState?.set(block.crystalState, at);
    if (block.indexFactor !== undefined) indexFactor?.set(block.indexFactor, at);
    at += block.thicknessNm.length;
  }
  return {
    from: sorted[0]?.from ?? 0,
    to: sorted.at(-1)?.to ?? 0,
    thicknessNm,
    ending,
    ...(crystalState === undefined ? {} : { crystalState }),
    ...(indexFactor === undefined ? {} : { indexFactor }),
  };
}
