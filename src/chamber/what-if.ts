import { requireWithin } from '../base/errors.ts';
import { type RunDescription, scheduleRun } from './schedule.ts';

/** A way to run the lot: one run's description and how many runs it takes. */
export interface Way {
  readonly label: string;
  readonly run: RunDescription;
  readonly runs: number;
}

export interface Comparison {
  readonly label: string;
  readonly perRunS: number;
  readonly runs: number;
  readonly totalS: number;
  /** Hours saved against the first way; negative where it takes longer. */
  readonly savedH: number;
}

/**
 * The hours of several ways to do the same lot, each against the first: a faster rate, a larger rack (fewer runs), a
 * stronger pump (shorter stages).
 * @throws InputError for what `scheduleRun` refuses and for a negative number of runs.
 */
export function compareWays(ways: readonly Way[]): Comparison[] {
  const totals = ways.map(({ label, run, runs }, index) => {
    requireWithin(`ways[${index}].runs`, runs, '', { min: 0, max: 100_000 });
    const perRunS = scheduleRun(run).totalS;
    return { label, perRunS, runs, totalS: perRunS * runs };
  });
  const first = totals[0]?.totalS ?? 0;
  return totals.map((way) => ({ ...way, savedH: (first - way.totalS) / 3600 }));
}
