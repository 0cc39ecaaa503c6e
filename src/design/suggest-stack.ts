import { fittingForms } from './closed-form-design.ts';
import { type DesignProblem, searchProblem, surfaceOf } from './design-problem.ts';
import { evaluateRequirements, type RequirementResult } from './evaluate.ts';
import { Merit } from './merit.ts';
import { refineThickness } from './refine.ts';
import type { StartingLayer, StartingStack } from './starting-stacks.ts';

/** A sensible first stack with how it stands. */
export interface Suggestion {
  readonly from: StartingStack;
  readonly layers: readonly StartingLayer[];
  readonly merit: number;
  readonly achieved: readonly RequirementResult[];
  /** Why this one, in a sentence. */
  readonly reason: string;
}

/**
 * The closed form that serves the requirements best once its thicknesses are refined, within a few hundredths
 * of a second: the fewest layers that meet everything, else the best of all.
 * @returns undefined where no closed form fits the layers and materials allowed.
 * @throws InputError as `searchProblem`.
 */
export function suggestStack(problem: DesignProblem): Suggestion | undefined {
  const search = searchProblem(problem, 61);
  const candidates = fittingForms(problem, search).map(
    ({ form: from, sketch: { materials, thicknessNm: start } }) => {
      const { thicknessNm, merit } = refineThickness(new Merit(search.grid, materials), start, {
        bounds: search,
        sharpness: [8, 32],
        maxEvaluations: 60,
        relativeTolerance: 1e-5,
      });
      const achieved = evaluateRequirements(
        problem.requirements,
        surfaceOf(problem, { materials, thicknessNm }),
      );
      const layers = from.layers.map(({ material }, layer) => ({
        material,
        thicknessNm: thicknessNm[layer]!,
      }));
      return { from, layers, merit, achieved, meets: achieved.every(({ met }) => met) };
    },
  );
  const [best] = candidates.sort(
    (one, other) =>
      Number(other.meets) - Number(one.meets) ||
      (one.meets ? one.layers.length - other.layers.length : 0) ||
      one.merit - other.merit,
  );
  if (best === undefined) return undefined;
  const { meets, ...suggestion } = best;
  const reason = meets
    ? `${best.from.name} meets every requirement with the fewest layers.`
    : `${best.from.name} comes nearest to the requirements among the closed forms; a search can do better.`;
  return { ...suggestion, reason };
}
