import { fixed, significant } from '../../../base/format.ts';
import type { MeasuredSpectrum } from '../../../batch/document.ts';
import { describeRequirement, type Requirement } from '../../../design/requirement.ts';
import type { Verdict as VerdictSign } from '../../../elements/verdict/verdict-element.ts';
import type { RunVerdict } from '../../../inspect/judge-run.ts';
import { judgeSpectrum } from '../../../inspect/judge-spectrum.ts';
import { isSameAngle, type Verdict } from '../../../inspect/verdict.ts';

/** What a measured spectrum says to one requirement, as the screen has it. */
export interface VerdictLine {
  readonly sign: VerdictSign;
  readonly requirement: string;
  readonly text: string;
}

const SIGNS: Readonly<Record<Verdict['kind'] | RunVerdict['kind'], VerdictSign>> = {
  pass: 'met',
  fail: 'missed',
  'too-close': 'watch',
  'no-uncertainty': 'watch',
  'not-measured': 'open',
  open: 'open',
};

/** The sign of a verdict. */
export function signOf({ kind }: Verdict | RunVerdict): VerdictSign {
  return SIGNS[kind];
}

/** A run's verdict in words that follow its name. */
export const RUN_WORDS: Readonly<Record<RunVerdict['kind'], string>> = {
  pass: 'passes',
  fail: 'fails',
  'too-close': 'is too close to call',
  'no-uncertainty': 'cannot be called without an uncertainty',
  open: 'is not judged to the end',
};

/** Judges a measured spectrum by every requirement; `uncertaintyPercent` is one standard deviation of a reading. */
export function verdictLines(
  requirements: readonly Requirement[],
  measured: MeasuredSpectrum,
  uncertaintyPercent: number,
): VerdictLine[] {
  const verdicts = judgeSpectrum(requirements, measured, uncertaintyPercent);
  return requirements.map((requirement, place) => ({
    sign: SIGNS[verdicts[place]!.kind],
    requirement: describeRequirement(requirement),
    text: words(verdicts[place]!, requirement, measured),
  }));
}

/** What keeps a value from being called. */
const DOUBTS: Readonly<Partial<Record<Verdict['kind'], string>>> = {
  'too-close': ', too close to the limit to tell',
  'no-uncertainty': ', no pass without an uncertainty',
};

function words(verdict: Verdict, { incidenceDeg }: Requirement, measured: MeasuredSpectrum): string {
  if (verdict.kind === 'not-measured') return verdict.reason;
  const others = incidenceDeg.filter((angle) => !isSameAngle(angle, measured.incidenceDeg));
  const only =
    others.length === 0
      ? ''
      : `, at ${measured.incidenceDeg}° only; ${others.map((angle) => `${angle}°`).join(', ')} not measured`;
  const doubt = verdict.expandedUncertainty > 0 ? ` ± ${fixed(verdict.expandedUncertainty, 2)} %` : '';
  const close = DOUBTS[verdict.kind] ?? '';
  return `${significant(verdict.value, 3)} %${doubt} measured${close}${only}`;
}
