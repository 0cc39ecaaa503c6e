import type { DesignProblem } from './design-problem.ts';
import type { FoundStack } from './found-stack.ts';
import { LEAST_ALLOWED_LOSS } from './merit-grid.ts';
import { describeRequirement } from './requirement.ts';

/** What the user should know about goals that can't be met or materials that can't make more than one layer. */
export function designWarnings(problem: DesignProblem, best: FoundStack): string[] {
  const warnings: string[] = [];
  problem.requirements.forEach((requirement, place) => {
    const { limit, sense } = requirement;
    const line = describeRequirement(requirement);
    const allowed = sense === 'below' ? limit / 100 : 1 - limit / 100;
    const result = best.achieved[place]!;
    if (allowed === 0)
      warnings.push(
        `The requirement "${line}" leaves nothing, which no real stack meets; the search went as far as it could, its merit measured against ${100 * LEAST_ALLOWED_LOSS} %.`,
      );
    else if (!result.met)
      warnings.push(
        `The requirement "${line}" is missed: ${formatPercent(result.value)} % at ${result.worstIncidenceDeg}° is the best found with these materials and at most ${problem.maxLayers} layers.`,
      );
  });
  if (problem.pool.length === 1 && (problem.others ?? []).length === 0)
    warnings.push('The pool has one material, so only a single layer can be made.');
  return warnings;
}

function formatPercent(value: number): string {
  return String(Number(value.toPrecision(4)));
}
