import { setUpRuns } from '../../monitor/run-setup.ts';
import { joinBlocks, type RunBlock, simulateRuns } from '../../monitor/simulate-runs.ts';
import type { Batch } from '../document.ts';
import type { CoatedSide } from '../sides.ts';
import { aimedLayers } from './aim.ts';
import type { IndexBook } from './index-of.ts';
import { crystalStock, monitoredLayers, witnessOf } from './monitored-layers.ts';
import { within } from './within.ts';

/** The seed of the virtual runs: the same batch always gets the same yield. */
const SEED = 1;
/** Runs between two turns given to other work. */
const RUNS_AT_ONCE = 25;

/** Who wants the answer still, and who hears how far it is. */
export interface YieldContext {
  readonly signal?: AbortSignal;
  readonly progress?: (fraction: number, doing: string) => void;
}

/** Film on the mean lens place, run by run. */
export interface VirtualFilms {
  readonly thicknessNm: readonly Float64Array[];
  /** Share of the runs in which a layer did not end by its rule, per layer. */
  readonly missedCuts: readonly number[];
}

/**
 * Virtual runs of one side with the batch's own monitoring and noise, each layer cut where the aimed film is reached.
 * @throws InputError where the monitor's settings have no answer.
 */
export async function virtualFilms(
  document: Batch,
  { side, surface }: CoatedSide,
  book: IndexBook,
  runs: number,
  context: YieldContext,
): Promise<VirtualFilms> {
  const layers = aimedLayers(document, surface.layers);
  const crystals = crystalStock(document, layers);
  const setup = within('monitor', () =>
    setUpRuns(
      witnessOf(document, surface.incident, book),
      monitoredLayers(document, layers, book),
      document.monitor.noise,
      crystals,
    ),
  );
  const blocks: RunBlock[] = [];
  for (let from = 0; from < runs; from += RUNS_AT_ONCE) {
    const to = Math.min(runs, from + RUNS_AT_ONCE);
    blocks.push(simulateRuns(setup, SEED, from, to));
    context.progress?.(to / runs, `virtual runs, ${side} side`);
    await aTurn(context);
  }
  const { thicknessNm, ending } = joinBlocks(blocks);
  const count = surface.layers.length;
  return {
    thicknessNm: Array.from({ length: runs }, (_, run) =>
      thicknessNm.subarray(run * count, (run + 1) * count),
    ),
    missedCuts: Array.from({ length: count }, (_, layer) => {
      let missed = 0;
      for (let run = 0; run < runs; run++) if (ending[run * count + layer] !== 0) missed++;
      return missed / runs;
    }),
  };
}

/** Lets other work have its turn, and stops where the answer is no longer wanted. */
export async function aTurn({ signal }: YieldContext): Promise<void> {
  await new Promise((resolve) => setTimeout(resolve, 0));
  signal?.throwIfAborted();
}
