import type { Batch, RunRecord } from '../batch/document.ts';
import { processOf } from '../batch/plan/film-facts.ts';
import type { Sensor } from '../batch/run-record.ts';

/** What one run found a tooling to be. */
export interface ToolingPoint {
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
  /** In the order of the runs' numbers. */
  readonly points: readonly ToolingPoint[];
}

/** The histories that a batch's run log holds, in the order in which they begin. */
export function toolingHistories(batch: Batch): ToolingHistory[] {
  const histories = new Map<string, { history: Omit<ToolingHistory, 'points'>; points: ToolingPoint[] }>();
  for (const run of [...batch.runs].sort((a, b) => a.number - b.number))
    for (const { material, source = sourceOf(batch, run, material), ...found } of run.corrections ?? []) {
      const key = JSON.stringify([material, source, found.sensor]);
      const held = histories.get(key) ?? { history: { material, source, sensor: found.sensor }, points: [] };
      held.points.push({
        run: run.number,
        startedAt: run.startedAt,
        tooling: found.after,
        sigma: found.sigma,
        carried: found.noted !== true,
      });
      histories.set(key, held);
    }
  return [...histories.values()].map(({ history, points }) => ({ ...history, points }));
}

function sourceOf(batch: Batch, { planned }: RunRecord, material: string): string {
  return planned?.tooling[material]?.source ?? processOf(batch, material).source;
}
