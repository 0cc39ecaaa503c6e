import type { SurfacePlan } from '../../../batch/plan/plan-types.ts';
import type { Requirement } from '../../../design/requirement.ts';
import type { SpectrumCurve, SpectrumLimit } from '../../../elements/spectrum-chart/spectrum-chart-data.ts';
import type { ColourToken } from '../../../elements/tokens/token-names.ts';

import type { ToleranceAnswer } from './stack-desk.ts';

/** What the reader wants to see of the spectra. */
export interface SpectrumView {
  readonly quantity: 'R' | 'T' | 'A';
  readonly polarization: 'mean' | 's' | 'p' | 's and p';
  /** Angles left out. */
  readonly hiddenDeg: ReadonlySet<number>;
  readonly showsBare: boolean;
  readonly isLog: boolean;
}

export const FIRST_VIEW: SpectrumView = {
  quantity: 'R',
  polarization: 'mean',
  hiddenDeg: new Set(),
  showsBare: false,
  isLog: false,
};

/** The curves' colours, in their order. */
export const CURVE_COLOURS: readonly ColourToken[] = [
  'curve-1',
  'curve-2',
  'curve-3',
  'curve-4',
  'curve-5',
  'curve-6',
];

/** The curves of a surface, those of before the last edit as ghosts behind them. */
export function spectrumCurves(
  plan: SurfacePlan,
  before: SurfacePlan | undefined,
  view: SpectrumView,
): SpectrumCurve[] {
  const ghosts =
    before === undefined || before === plan
      ? []
      : curvesOf(before, view).map((curve) => ({ ...curve, ghost: true }));
  const bare: SpectrumCurve[] =
    view.showsBare && view.quantity === 'R'
      ? [
          {
            name: 'bare glass',
            wavelengthNm: plan.wavelengthNm,
            values: plan.bare,
            dash: 'dotted',
            colour: 'curve-6',
          },
        ]
      : [];
  return [...ghosts, ...curvesOf(plan, view), ...bare];
}

/** The band that 5 to 95 % of the virtual coatings lie in, at the first requirement's first angle, where the chart shows reflectance. */
export function toleranceBand(
  answer: ToleranceAnswer | undefined,
  [first]: readonly Requirement[],
  view: SpectrumView,
): SpectrumCurve[] {
  if (answer === undefined || first === undefined || view.quantity !== 'R') return [];
  const polarized = first.polarization === 'mean' ? '' : ` ${first.polarization}`;
  const { wavelengthNm, R } = answer.percentiles;
  return [
    {
      name: `5 to 95 % of the trials: R${polarized} at ${first.incidenceDeg[0]}°`,
      wavelengthNm,
      values: R['95'],
      lower: R['5'],
      colour: 'curve-5',
      dash: 'dotted',
    },
  ];
}

function curvesOf(
  { curves, wavelengthNm }: SurfacePlan,
  { quantity, polarization, hiddenDeg }: SpectrumView,
): SpectrumCurve[] {
  const polarizations = polarization === 's and p' ? (['s', 'p'] as const) : [polarization];
  return curves
    .map((curve, index) => ({ curve, colour: CURVE_COLOURS[index % CURVE_COLOURS.length]! }))
    .filter(({ curve }) => !hiddenDeg.has(curve.incidenceDeg))
    .flatMap(({ curve, colour }) =>
      polarizations.map(
        (name): SpectrumCurve => ({
          name: `${quantity}${name === 'mean' ? '' : ` ${name}`} at ${curve.incidenceDeg}°`,
          wavelengthNm,
          values: curve[name][quantity],
          colour,
          ...(name === 'p' && polarization === 's and p' ? { dash: 'dashed' as const } : {}),
        }),
      ),
    );
}

/** The requirements as hatched limits. */
export function spectrumLimits(requirements: readonly Requirement[], plan: SurfacePlan): SpectrumLimit[] {
  return requirements.map(({ quantity, statistic, sense, limit, bandNm }, index) => ({
    quantity,
    statistic,
    sense,
    limitPercent: limit,
    bandNm,
    met: plan.requirements[index]?.met ?? true,
    ...(plan.requirements[index] === undefined ? {} : { name: plan.requirements[index].text }),
  }));
}
