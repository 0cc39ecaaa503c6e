import { percentile } from '../math/percentile.ts';
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

export interface RunStatistics {
  readonly layers: readonly LayerStatistics[];
  /** Of the thickness errors, [layer][layer]; 0 beside a layer that never varies. */
  readonly correlation: readonly (readonly number[])[];
  /** Share of the runs with any missed cut. */
  readonly runsWithMissedCut: number;
}

/** @param plannedNm of each layer. @param block at least one run. */
export function runStatistics(block: RunBlock, plannedNm: readonly number[]): RunStatistics {
  const count = plannedNm.length;
  const runs = block.to - block.from;
  const errors = plannedNm.map((planned, layer) => {
    const column = new Float64Array(runs);
    for (let run = 0; run < runs; run++) column[run] = block.thicknessNm[run * count + layer]! - planned;
    return column;
  });
  const missedIn = (layer: number) => {
    let missed = 0;
    for (let run = 0; run < runs; run++) if (block.ending[run * count + layer] !== 0) missed++;
    return missed / runs;
  };
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
      missed: missedIn(layer),
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
  return { layers, correlation, runsWithMissedCut: runsMissed(block, count) / runs };
}

function runsMissed(block: RunBlock, count: number): number {
  let missed = 0;
  for (let at = 0; at < block.ending.length; at += count)
    if (block.ending.subarray(at, at + count).some((ending) => ending !== 0)) missed++;
  return missed;
}
