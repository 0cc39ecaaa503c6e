import type { DesignProblem } from './design-problem.ts';
import type { FoundStack } from './found-stack.ts';
import { LEAST_ALLOWED_LOSS } from './merit-grid.ts';
import { describeRequirement } from './requirement.ts';

/**
 * What the user should know about goals that can't be met or materials that can't make more than one layer.
 * @param within what the best was the best of, as the end of a sentence.
 */
export function designWarnings(problem: DesignProblem, best: FoundStack, within: string): string[] {
  const warnings: string[] = [];
  problem.requirements.forEach((requirement, place) => {
    const { limit, sense } = requirement;
    const line = describeRequirement(requirement);
    const allowed = sense === 'below' ? limit / 100 : 1 - limit / 100;
    const result = best.achieved[place]!;
    if (allowed === 0)
      warnings.push(
        `The requirement "${line}" leaves nothing, which no real stack meets; it was approached as far as possible, the merit measured against ${100 * LEAST_ALLOWED_LOSS} %.`,
      );
    else if (!result.met)
      warnings.push(
        `The requirement "${line}" is missed by ${formatPercent(-result.margin)} %: ${formatPercent(result.value)} % at ${result.worstIncidenceDeg}° is the best found ${within}.`,
      );
  });
  if (problem.pool.length === 1 && (problem.others ?? []).length === 0)
    warnings.push('The pool has one material, so only a single layer can be made.');
  return warnings;
}

function formatPercent(value: number): string {
  return String(Number(value.toPrecision(4)));
}
