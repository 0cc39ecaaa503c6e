import type { Batch, RunRecord } from '../batch/document.ts';
import { lotWords } from '../batch/lot-words.ts';
import { processOf } from '../batch/plan/film-facts.ts';
import type { Sensor } from '../batch/run-record.ts';

/** What one run found a tooling to be. */
export interface ToolingPoint {
  /** Where the run's record stands. */
  readonly batchId: string;
  readonly runId: string;
  /** Lot of the order, its title where the lot has no name. */
  readonly lot: string;
  readonly run: number;
  readonly startedAt: string;
  readonly tooling: number;
  readonly sigma: number;
  /** Whether the next run took it. */
  readonly carried: boolean;
}

/** The history of one tooling: that of a material from a source, seen by a sensor. */
export interface ToolingHistory {
  readonly material: string;
  readonly source: string;
  readonly sensor: Sensor;
  /** In the order in which the runs were started; within a batch runs of the same moment by their numbers. */
  readonly points: readonly ToolingPoint[];
}

/**
 * The histories that the run logs of some batches hold, in the order in which they begin. A run that stands in two batches,
 * since its file was read in twice, is one point: the first batch has it.
 */
export function toolingHistories(batches: readonly Batch[]): ToolingHistory[] {
  const histories = new Map<string, { history: Omit<ToolingHistory, 'points'>; points: ToolingPoint[] }>();
  const known = new Set<string>();
  const runs = batches
    .flatMap((batch) => batch.runs.map((run) => ({ batch, run })))
    .sort((a, b) => moment(a.run) - moment(b.run) || a.run.number - b.run.number);
  for (const { batch, run } of runs)
    for (const { material, source = sourceOf(batch, run, material), ...found } of run.corrections ?? []) {
      const { sensor, after, sigma, noted } = found;
      const same = JSON.stringify([batch.order.lot, run.number, run.startedAt, material, source, found]);
      if (known.has(same)) continue;
      known.add(same);
      const key = JSON.stringify([material, source, sensor]);
      const held = histories.get(key) ?? { history: { material, source, sensor }, points: [] };
      held.points.push({
        ...{ batchId: batch.id, runId: run.id, lot: batch.order.lot || batch.order.title },
        ...{ run: run.number, startedAt: run.startedAt },
        ...{ tooling: after, sigma, carried: noted !== true },
      });
      histories.set(key, held);
    }
  return [...histories.values()].map(({ history, points }) => ({ ...history, points }));
}

/** Whether two batches are coated in one chamber, which its name says: a tooling holds for the chamber alone. */
export function isSameChamber(one: Batch, other: Batch): boolean {
  const name = ({ chamber }: Batch) => chamber.name.trim().toLowerCase();
  return name(one) === name(other);
}

/** What a point is called: by its run alone within one batch, by lot and run among several. */
export function pointName({ lot, run }: ToolingPoint, withLot: boolean): string {
  return withLot ? `${lotWords(lot)}, run ${run}` : `run ${run}`;
}

/** A moment in ms since 1970; one that cannot be read counts as the first. */
function moment({ startedAt }: RunRecord): number {
  const ms = Date.parse(startedAt);
  return Number.isNaN(ms) ? 0 : ms;
}

function sourceOf(batch: Batch, { planned }: RunRecord, material: string): string {
  return planned?.tooling[material]?.source ?? processOf(batch, material).source;
}
