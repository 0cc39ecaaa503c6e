import { type DesignProblem, surfaceOf } from './design-problem.ts';
import { draftOf, type FoundStack } from './found-stack.ts';
import { Merit } from './merit.ts';
import { refineThickness } from './refine.ts';
import { RobustMerit } from './robust-merit.ts';
import type { Draft, SearchProblem } from './search/search-problem.ts';
import { runTrials } from './tolerance/run-trials.ts';
import { type LayerErrors, trialPlan } from './tolerance/trial-plan.ts';

/** The stack with its thicknesses refined for virtual coatings with these errors. */
export function refineForYield(
  fine: SearchProblem,
  stack: FoundStack,
  errors: LayerErrors,
  seed: number,
): Draft {
  const draft = draftOf(stack);
  const merit = new RobustMerit(new Merit(fine.grid, draft.materials), draft.materials.length, errors, seed);
  const { thicknessNm } = refineThickness(merit, draft.thicknessNm, {
    bounds: fine,
    sharpness: [16],
    maxEvaluations: 60,
    relativeTolerance: 1e-4,
  });
  return { ...draft, thicknessNm };
}

/** Virtual coatings that tell stacks apart by their yield. */
const YIELD_TRIALS = 1000;

/** The share of virtual coatings with these errors that meet everything. */
export function yieldOf(
  problem: DesignProblem,
  stack: FoundStack,
  errors: LayerErrors,
  seed: number,
): number {
  const plan = trialPlan(surfaceOf(problem, draftOf(stack)), problem.requirements, errors, seed);
  return runTrials(plan, { block: 0, trials: YIELD_TRIALS, keepsSpectra: false }).passes / YIELD_TRIALS;
}
