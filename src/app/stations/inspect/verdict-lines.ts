import { fixed, significant } from '../../../base/format.ts';
import type { MeasuredSpectrum } from '../../../batch/document.ts';
import { describeRequirement, type Requirement } from '../../../design/requirement.ts';
import type { Verdict as VerdictSign } from '../../../elements/verdict/verdict-element.ts';
import { judge, type Verdict } from '../../../inspect/verdict.ts';

/** What a measured spectrum says to one requirement, as the screen has it. */
export interface VerdictLine {
  readonly sign: VerdictSign;
  readonly text: string;
}

const SIGNS: Readonly<Record<Verdict['kind'], VerdictSign>> = {
  pass: 'met',
  fail: 'missed',
  'too-close': 'watch',
  'not-measured': 'open',
};

/** Judges a measured spectrum by every requirement; `uncertaintyPercent` is one standard deviation of a reading. */
export function verdictLines(
  requirements: readonly Requirement[],
  measured: MeasuredSpectrum,
  uncertaintyPercent: number,
): VerdictLine[] {
  const curve = {
    wavelengthNm: Float64Array.from(measured.wavelengthNm),
    values: Float64Array.from(measured.values),
    quantity: measured.quantity,
    incidenceDeg: measured.incidenceDeg,
    polarization: 'mean' as const,
    uncertaintyPercent,
  };
  return requirements.map((requirement) => {
    const verdict = judge(requirement, curve);
    return {
      sign: SIGNS[verdict.kind],
      text: `${describeRequirement(requirement)}: ${words(verdict, requirement, measured)}`,
    };
  });
}

function words(verdict: Verdict, { incidenceDeg }: Requirement, measured: MeasuredSpectrum): string {
  if (verdict.kind === 'not-measured') return verdict.reason;
  const others = incidenceDeg.filter((angle) => Math.abs(angle - measured.incidenceDeg) > 0.5);
  const only =
    others.length === 0
      ? ''
      : `, at ${measured.incidenceDeg}° only; ${others.map((angle) => `${angle}°`).join(', ')} not measured`;
  const doubt = verdict.expandedUncertainty > 0 ? ` ± ${fixed(verdict.expandedUncertainty, 2)} %` : '';
  const close = verdict.kind === 'too-close' ? ', too close to the limit to tell' : '';
  return `${significant(verdict.value, 3)} %${doubt} measured${close}${only}`;
}
