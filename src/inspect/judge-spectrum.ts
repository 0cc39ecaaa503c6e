import type { MeasuredSpectrum } from '../batch/document.ts';
import type { Requirement } from '../design/requirement.ts';
import { judge, type Verdict } from './verdict.ts';

/** Judges one measured spectrum by every requirement; `uncertaintyPercent` is one standard deviation of a reading, 0 where none is stated. */
export function judgeSpectrum(
  requirements: readonly Requirement[],
  { wavelengthNm, values, quantity, incidenceDeg }: MeasuredSpectrum,
  uncertaintyPercent: number,
): Verdict[] {
  const curve = {
    wavelengthNm: Float64Array.from(wavelengthNm),
    values: Float64Array.from(values),
    quantity,
    incidenceDeg,
    polarization: 'mean' as const,
    uncertaintyPercent,
  };
  return requirements.map((requirement) => judge(requirement, curve));
}
