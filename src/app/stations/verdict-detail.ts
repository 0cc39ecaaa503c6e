import { significant } from '../../base/format.ts';
import type { RequirementVerdict } from '../../batch/plan/plan-types.ts';

/** By how much a requirement is met or missed, and where it is worst: "0.25 % to spare, worst at 430 nm and 25°". */
export function verdictDetail(verdict: RequirementVerdict): string {
  const { met, marginPercent, worstWavelengthNm, worstIncidenceDeg } = verdict;
  const by = `${significant(Math.abs(marginPercent), 2)} %`;
  const where = `worst at ${Math.round(worstWavelengthNm)} nm and ${worstIncidenceDeg}°`;
  return `${met ? `${by} to spare` : `missed by ${by}`}, ${where}`;
}
