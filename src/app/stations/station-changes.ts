import type { BenchState } from '../bench-state.ts';
import type { Station } from '../routes.ts';
import { type FactChange, factChanges, stationFacts } from './station-facts.ts';

const known = new WeakMap<BenchState, Map<Station, readonly FactChange[]>>();

/** What the last edit changed at a station. */
export function stationChanges(state: BenchState, station: Station): readonly FactChange[] {
  const { plan, planBefore, batch, batchBefore, isStale } = state;
  if (plan === undefined || planBefore === undefined || plan === planBefore || isStale) return [];
  const ofState = known.get(state) ?? new Map<Station, readonly FactChange[]>();
  known.set(state, ofState);
  const before = ofState.get(station);
  if (before !== undefined) return before;
  const changes = factChanges(
    stationFacts(station, batchBefore, planBefore),
    stationFacts(station, batch, plan),
  );
  ofState.set(station, changes);
  return changes;
}
