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

/** Puts blocks of one simulation together, at least one, in the order of their runs. */
export function joinBlocks(blocks: readonly RunBlock[]): RunBlock {
  const sorted = [...blocks].sort((a, b) => a.from - b.from);
  const length = sorted.reduce((sum, block) => sum + block.thicknessNm.length, 0);
  const crystals = sorted.flatMap(({ crystalState }) => crystalState ?? []);
  const factors = sorted.flatMap(({ indexFactor }) => indexFactor ?? []);
  return {
    from: sorted[0]!.from,
    to: sorted.at(-1)!.to,
    thicknessNm: joined(
      new Float64Array(length),
      sorted.map(({ thicknessNm }) => thicknessNm),
    ),
    ending: joined(
      new Uint8Array(length),
      sorted.map(({ ending }) => ending),
    ),
    ...(crystals.length === 0 ? {} : { crystalState: joined(new Uint8Array(length), crystals) }),
    ...(factors.length === 0 ? {} : { indexFactor: joined(new Float64Array(length), factors) }),
  };
}

/** The whole, written part after part. */
function joined<Entries extends Float64Array | Uint8Array>(
  whole: Entries,
  parts: readonly Entries[],
): Entries {
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
