import { percentile } from '../math/percentile.ts';
import { CUT_AS_RULED } from './controller.ts';
import { CRYSTAL_KEPT, CRYSTAL_LOST } from './crystal-reader.ts';
import type { RunBlock } from './simulate-runs.ts';

/** What many virtual runs say about one layer. */
export interface LayerStatistics {
  /** Of the true minus the planned thickness on the lens, nm; sigma with n - 1. */
  readonly mean: number;
  readonly sigma: number;
  readonly percentiles: { readonly '5': number; readonly '50': number; readonly '95': number };
  /** Share of the runs in which the layer was not cut as ruled: its signal turned first, or crystal or clock cut it. */
  readonly missed: number;
}

/** What many virtual runs say about the crystals; shares of the runs, 0 to 1. */
export interface CrystalStatistics {
  /** A crystal was lost before its layer was done; of any layer, and of each. */
  readonly runsLost: number;
  readonly lost: readonly number[];
  /** A crystal went beyond its budget or was lost; of any layer, and of each. */
  readonly runsOverBudget: number;
  readonly overBudget: readonly number[];
}

export interface RunStatistics {
  readonly layers: readonly LayerStatistics[];
  /** Of the thickness errors, [layer][layer]; 0 beside a layer that never varies. */
  readonly correlation: readonly (readonly number[])[];
  /** Share of the runs with any missed cut. */
  readonly runsWithMissedCut: number;
  /** Absent where nothing is known of the crystals. */
  readonly crystals?: CrystalStatistics;
}

/** @param plannedNm of each layer. @param block at least one run. */
export function runStatistics(block: RunBlock, plannedNm: readonly number[]): RunStatistics {
  const count = plannedNm.length;
  const runs = block.to - block.from;
  const errors = plannedNm.map((planned, layer) =>
    new Float64Array(runs).map((_, run) => block.thicknessNm[run * count + layer]! - planned),
  );
  const means = errors.map((column) => column.reduce((sum, value) => sum + value, 0) / runs);
  const covariance = (a: number, b: number) => {
    let sum = 0;
    for (let run = 0; run < runs; run++)
      sum += (errors[a]![run]! - means[a]!) * (errors[b]![run]! - means[b]!);
    return sum / Math.max(1, runs - 1);
  };
  const sigmas = errors.map((_, layer) => Math.sqrt(covariance(layer, layer)));
  const layers = errors.map((column, layer) => {
    const sorted = Float64Array.from(column).sort();
    return {
      mean: means[layer]!,
      sigma: sigmas[layer]!,
      percentiles: { '5': percentile(sorted, 5), '50': percentile(sorted, 50), '95': percentile(sorted, 95) },
      missed: shareIn(block.ending, count, layer, isMissed),
    };
  });
  const correlation = sigmas.map((one, a) =>
    sigmas.map((other, b) => {
      if (a === b) return 1;
      // Below a millionth of a nanometre a spread is rounding, and rounding correlates with anything.
      if (one < 1e-6 || other < 1e-6) return 0;
      return Math.max(-1, Math.min(1, covariance(a, b) / (one * other)));
    }),
  );
  return {
    layers,
    correlation,
    runsWithMissedCut: shareOfRuns(block.ending, count, isMissed),
    ...(block.crystalState === undefined ? {} : { crystals: crystalStatistics(block.crystalState, count) }),
  };
}

const isMissed = (ending: number) => ending !== CUT_AS_RULED;

function crystalStatistics(state: Uint8Array, count: number): CrystalStatistics {
  const isLost = (one: number) => one === CRYSTAL_LOST;
  const isOver = (one: number) => one !== CRYSTAL_KEPT;
  const each = (is: (one: number) => boolean) =>
    Array.from({ length: count }, (_, layer) => shareIn(state, count, layer, is));
  return {
    runsLost: shareOfRuns(state, count, isLost),
    lost: each(isLost),
    runsOverBudget: shareOfRuns(state, count, isOver),
    overBudget: each(isOver),
  };
}

/** Share of the runs whose entry of this layer is such a one; entries stand run after run. */
function shareIn(
  entries: Uint8Array,
  count: number,
  layer: number,
  isSuch: (entry: number) => boolean,
): number {
  let found = 0;
  for (let at = layer; at < entries.length; at += count) if (isSuch(entries[at]!)) found++;
  return (found * count) / entries.length;
}

/** Share of the runs with such an entry in any layer. */
function shareOfRuns(entries: Uint8Array, count: number, isSuch: (entry: number) => boolean): number {
  let found = 0;
  for (let at = 0; at < entries.length; at += count)
    if (entries.subarray(at, at + count).some(isSuch)) found++;
  return (found * count) / entries.length;
}
