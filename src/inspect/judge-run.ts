import type { Batch, MeasuredSpectrum, RunRecord } from '../batch/document.ts';
import { coatingOf } from '../batch/run-planned.ts';
import { describeRequirement, type Requirement } from '../design/requirement.ts';
import { isSameAngle, judge, type Verdict } from './verdict.ts';

/** What a run's spectra say together; `open` where they pass as far as they go, or there are none. */
export interface RunVerdict {
  readonly kind: 'pass' | 'fail' | 'too-close' | 'open';
  readonly sentence: string;
}

/** Judges one measured spectrum by every requirement; `uncertaintyPercent` is one standard deviation of a reading. */
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

/**
 * The verdict on a run: it fails where one place fails, is too close where one is, and passes only where every
 * requirement was measured at each of its angles.
 */
export function judgeRun(batch: Batch, { side, spectra, uncertaintyPercent = 0 }: RunRecord): RunVerdict {
  const { requirements } = coatingOf(batch, side);
  if (requirements.length === 0) return { kind: 'open', sentence: 'there is no requirement to judge by' };
  if (spectra.length === 0) return { kind: 'open', sentence: 'nothing is measured yet' };
  const judged = spectra.map((spectrum) => ({
    spectrum,
    verdicts: judgeSpectrum(requirements, spectrum, uncertaintyPercent),
  }));
  const where = (kind: Verdict['kind']) =>
    judged.flatMap(({ spectrum, verdicts }) =>
      requirements
        .filter((_, i) => verdicts[i]!.kind === kind)
        .map((requirement) => `${describeRequirement(requirement)} at ${placeOf(spectrum)}`),
    );
  const failed = where('fail');
  if (failed.length > 0) return { kind: 'fail', sentence: `missed: ${failed.join('; ')}` };
  const close = where('too-close');
  if (close.length > 0) return { kind: 'too-close', sentence: `too close to tell: ${close.join('; ')}` };
  const open = requirements.flatMap((requirement, i) => {
    const angles = requirement.incidenceDeg.filter(
      (angle) =>
        !judged.some(
          ({ spectrum, verdicts }) =>
            verdicts[i]!.kind === 'pass' && isSameAngle(angle, spectrum.incidenceDeg),
        ),
    );
    return angles.length === 0
      ? []
      : [`${describeRequirement(requirement)} (${angles.map((angle) => `${angle}°`).join(', ')})`];
  });
  return open.length > 0
    ? { kind: 'open', sentence: `not measured: ${open.join('; ')}` }
    : { kind: 'pass', sentence: `every requirement is met at ${spectra.map(placeOf).join('; ')}` };
}

/** Where a spectrum was measured, its name where no place is given. */
export function placeOf({ place, name }: Pick<MeasuredSpectrum, 'place' | 'name'>): string {
  return place ?? name;
}
