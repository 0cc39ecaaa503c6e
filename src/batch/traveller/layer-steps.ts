import type { RunPlan, StepPlan } from '../plan/plan-types.ts';

/** What is done for one layer: its steps by their kind. */
export interface LayerSteps {
  readonly startS: number;
  readonly byKind: ReadonlyMap<string, StepPlan>;
}

/** A run's steps with those of a layer gathered: what comes before the layers, the layers, what comes after. */
export interface GatheredSteps {
  readonly before: readonly StepPlan[];
  readonly layers: readonly LayerSteps[];
  readonly after: readonly StepPlan[];
}

/** Gathers a run's steps; none is lost. */
export function gatherSteps({ steps }: Pick<RunPlan, 'steps'>): GatheredSteps {
  const layers: { startS: number; byKind: Map<string, StepPlan> }[] = [];
  const before: StepPlan[] = [];
  const after: StepPlan[] = [];
  for (const step of steps) {
    if (step.layerIndex === undefined) (layers.length === 0 ? before : after).push(step);
    else {
      layers[step.layerIndex] ??= { startS: step.startS, byKind: new Map() };
      layers[step.layerIndex]!.byKind.set(step.kind, step);
    }
  }
  return { before, layers, after };
}
