import type { Batch, RunRecord } from './document.ts';

/** Whether two batches differ in nothing but the run log and its trail, so that one plan follows from both. */
export function plansAlike(one: Batch, other: Batch): boolean {
  const names = new Set([...Object.keys(one), ...Object.keys(other)]) as Set<keyof Batch>;
  return [...names].every((name) => name === 'runs' || name === 'trail' || one[name] === other[name]);
}

/** The run records that an edit touched: as they are now, or as they were where they are gone. */
export function touchedRuns(before: Batch, after: Batch): RunRecord[] {
  if (before.runs === after.runs) return [];
  const old = new Map(before.runs.map((run) => [run.id, run]));
  const kept = new Set(after.runs.map(({ id }) => id));
  const changed = after.runs.filter((run) => old.get(run.id) !== run);
  return [...changed, ...before.runs.filter(({ id }) => !kept.has(id))];
}
