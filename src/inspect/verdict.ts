import { InputError } from '../base/errors.ts';
import type { Requirement } from '../design/requirement.ts';

/** Measured fractions at ascending wavelengths, with the standard uncertainty of one reading. */
export interface MeasuredCurve {
  readonly wavelengthNm: Float64Array;
  readonly values: Float64Array;
  readonly quantity: 'R' | 'T' | 'A';
  readonly incidenceDeg: number;
  readonly polarization: 'mean' | 's' | 'p';
  /**
   * One standard deviation in percent of full scale, of what all wavelengths share (reference, alignment); 0 where nobody
   * has stated it, since no instrument has one of 0.
   */
  readonly uncertaintyPercent: number;
}

/** What a measurement says on one requirement. */
export type Verdict =
  | {
      /** `no-uncertainty`: on the good side of the limit as read, which is no pass while its uncertainty is not stated. */
      readonly kind: 'pass' | 'fail' | 'too-close' | 'no-uncertainty';
      /** In percent. */
      readonly value: number;
      readonly limit: number;
      /** Expanded uncertainty (k = 2) in percent. */
      readonly expandedUncertainty: number;
      /** Where the value was reached; absent for a mean. */
      readonly worstWavelengthNm?: number;
    }
  | { readonly kind: 'not-measured'; readonly reason: string };

/** The coverage factor of about 95 % (JCGM 100:2008, Guide to the expression of uncertainty, 6.2). */
const COVERAGE = 2;
/** Angles that count as the same. */
const SAME_ANGLE_DEG = 0.5;

/**
 * Judges a measurement against a requirement. A pass needs the whole uncertainty on the good side of the limit, a
 * fail the whole of it on the bad side; in between it is too close to call (decision rules of ISO 14253-1 and
 * JCGM 106:2012 with a guard band of the expanded uncertainty). Without a stated uncertainty nothing passes; what lies
 * beyond its limit as read fails.
 */
export function judge(requirement: Requirement, curve: MeasuredCurve): Verdict {
  const reason = whyNotMeasured(requirement, curve);
  if (reason !== undefined) return { kind: 'not-measured', reason };
  if (!(curve.uncertaintyPercent >= 0))
    throw new InputError('uncertaintyPercent', `${curve.uncertaintyPercent} % is below 0 %`);
  const band = cutToBand(curve, requirement.bandNm);
  const { value, worstWavelengthNm } = statistic(band, requirement);
  const expandedUncertainty = COVERAGE * curve.uncertaintyPercent;
  const { limit, sense } = requirement;
  const margin = sense === 'below' ? limit - value : value - limit;
  const stated = margin >= expandedUncertainty ? 'pass' : 'too-close';
  const kind = margin < -expandedUncertainty ? 'fail' : expandedUncertainty === 0 ? 'no-uncertainty' : stated;
  return {
    kind,
    value,
    limit,
    expandedUncertainty,
    ...(worstWavelengthNm === undefined ? {} : { worstWavelengthNm }),
  };
}

function whyNotMeasured(requirement: Requirement, curve: MeasuredCurve): string | undefined {
  const { quantity, bandNm, incidenceDeg, polarization } = requirement;
  if (quantity !== curve.quantity) return `the requirement is on ${quantity}, measured was ${curve.quantity}`;
  if (polarization !== curve.polarization)
    return `the requirement is for ${inWords(polarization)}, measured was ${inWords(curve.polarization)}`;
  if (!incidenceDeg.some((angle) => isSameAngle(angle, curve.incidenceDeg)))
    return `the requirement is at ${incidenceDeg.join('° and ')}°, measured was ${curve.incidenceDeg}°`;
  const [from, to] = [curve.wavelengthNm[0]!, curve.wavelengthNm.at(-1)!];
  if (from > bandNm[0] || to < bandNm[1])
    return (
      `measured was ${Number(from.toPrecision(6))} to ${Number(to.toPrecision(6))} nm, ` +
      `the requirement needs ${bandNm[0]} to ${bandNm[1]} nm`
    );
  return undefined;
}

/** Whether two angles in degrees count as one. */
export function isSameAngle(one: number, other: number): boolean {
  return Math.abs(one - other) <= SAME_ANGLE_DEG;
}

function inWords(polarization: 'mean' | 's' | 'p'): string {
  return polarization === 'mean' ? 'unpolarized light' : `${polarization} polarized light`;
}

interface Points {
  readonly nm: readonly number[];
  readonly percent: readonly number[];
}

/** The points inside the band and, between points, its two ends. */
function cutToBand({ wavelengthNm, values }: MeasuredCurve, [from, to]: readonly [number, number]): Points {
  const at = (nm: number): number => {
    const above = wavelengthNm.findIndex((known) => known >= nm);
    const right = wavelengthNm[above]!;
    if (right === nm) return values[above]!;
    const left = wavelengthNm[above - 1]!;
    return values[above - 1]! + ((values[above]! - values[above - 1]!) * (nm - left)) / (right - left);
  };
  const inside = Array.from(wavelengthNm).filter((nm) => nm > from && nm < to);
  const nm = from === to ? [from] : [from, ...inside, to];
  return { nm, percent: nm.map((value) => 100 * at(value)) };
}

function statistic(
  { nm, percent }: Points,
  { statistic: kind }: Requirement,
): { value: number; worstWavelengthNm?: number } {
  if (nm.length === 1) return { value: percent[0]!, worstWavelengthNm: nm[0]! };
  if (kind === 'mean') {
    let area = 0;
    for (let i = 1; i < nm.length; i++) area += ((percent[i]! + percent[i - 1]!) / 2) * (nm[i]! - nm[i - 1]!);
    return { value: area / (nm.at(-1)! - nm[0]!) };
  }
  const wantsLargest = kind === 'max';
  let best = 0;
  for (let i = 1; i < nm.length; i++)
    if (wantsLargest ? percent[i]! > percent[best]! : percent[i]! < percent[best]!) best = i;
  return { value: percent[best]!, worstWavelengthNm: nm[best]! };
}
