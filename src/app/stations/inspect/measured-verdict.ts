import type { MeasuredSpectrum } from '../../../batch/document.ts';
import { describeRequirement, type Requirement } from '../../../design/requirement.ts';

/** What a measured curve says to one requirement. */
export interface MeasuredVerdict {
  readonly text: string;
  /** Undefined where the measurement cannot tell; `why` then says why. */
  readonly met: boolean | undefined;
  readonly valuePercent: number | undefined;
  readonly why: string;
}

/** Judges a measured spectrum by the requirements that speak of its quantity and angle. */
export function measuredVerdicts(
  requirements: readonly Requirement[],
  measured: MeasuredSpectrum,
): MeasuredVerdict[] {
  return requirements.map((requirement) => {
    const text = describeRequirement(requirement);
    const why = whyNot(requirement, measured);
    if (why !== '') return { text, met: undefined, valuePercent: undefined, why };
    const valuePercent = 100 * statisticOf(requirement, measured);
    const met =
      requirement.sense === 'below' ? valuePercent <= requirement.limit : valuePercent >= requirement.limit;
    const others = requirement.incidenceDeg.filter((angle) => angle !== measured.incidenceDeg);
    return {
      text,
      met,
      valuePercent,
      why:
        others.length === 0
          ? ''
          : `at ${measured.incidenceDeg}° only; ${others.map((angle) => `${angle}°`).join(', ')} not measured`,
    };
  });
}

function whyNot({ quantity, incidenceDeg, bandNm }: Requirement, measured: MeasuredSpectrum): string {
  const { wavelengthNm } = measured;
  if (quantity !== measured.quantity) return `the file holds ${measured.quantity}, not ${quantity}`;
  if (!incidenceDeg.includes(measured.incidenceDeg))
    return `measured at ${measured.incidenceDeg}°, asked for at ${incidenceDeg.join('°, ')}°`;
  const [least, most] = [wavelengthNm[0] ?? 0, wavelengthNm.at(-1) ?? 0];
  if (least > bandNm[0] || most < bandNm[1]) return `measured from ${least} to ${most} nm only`;
  return '';
}

/** The statistic over the band; the mean is that of the straight lines between the readings. */
function statisticOf(
  { statistic, bandNm: [from, to] }: Requirement,
  { wavelengthNm, values }: MeasuredSpectrum,
): number {
  const inner = wavelengthNm
    .map((x, index) => [x, values[index]!] as const)
    .filter(([x]) => x > from && x < to);
  const points = [
    [from, valueAt(wavelengthNm, values, from)] as const,
    ...inner,
    [to, valueAt(wavelengthNm, values, to)] as const,
  ];
  const ys = points.map(([, y]) => y);
  if (statistic === 'max') return Math.max(...ys);
  if (statistic === 'min') return Math.min(...ys);
  if (from === to) return ys[0]!;
  let area = 0;
  for (let index = 1; index < points.length; index += 1) {
    const [x0, y0] = points[index - 1]!;
    const [x1, y1] = points[index]!;
    area += ((x1 - x0) * (y0 + y1)) / 2;
  }
  return area / (to - from);
}

/** The value at x on the straight line between its neighbours; `xs` ascends and reaches over x. */
export function valueAt(xs: readonly number[], ys: readonly number[], x: number): number {
  const after = xs.findIndex((candidate) => candidate >= x);
  if (after <= 0) return ys[Math.max(after, 0)] ?? 0;
  const [x0, x1] = [xs[after - 1]!, xs[after]!];
  const share = x1 === x0 ? 0 : (x - x0) / (x1 - x0);
  return ys[after - 1]! + share * (ys[after]! - ys[after - 1]!);
}
