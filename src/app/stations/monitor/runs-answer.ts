import { percent } from '../../../base/format.ts';
import type { SurfacePlan } from '../../../batch/plan/plan-types.ts';
import type { SpectrumCurve } from '../../../elements/spectrum-chart/spectrum-chart-data.ts';
import type { CrystalStatistics } from '../../../monitor/run-statistics.ts';

/** What one way of monitoring gave. Shares are fractions. */
export interface WayAnswer {
  readonly thicknessErrorNm: readonly {
    readonly mean: number;
    readonly sigma: number;
    readonly percentiles: { readonly '5': number; readonly '50': number; readonly '95': number };
  }[];
  readonly yield?: number;
  readonly yield95?: readonly [number, number];
  readonly missedCuts: readonly number[];
  readonly runsWithMissedCut: number;
  readonly crystals?: CrystalStatistics;
}

/** The answer of the task `rehearse`. */
export interface RunsAnswer extends WayAnswer {
  readonly correlation: readonly (readonly number[])[];
  readonly percentiles: {
    readonly wavelengthNm: ArrayLike<number>;
    readonly incidenceDeg: number;
    readonly R: {
      readonly '5': readonly number[];
      readonly '50': readonly number[];
      readonly '95': readonly number[];
    };
  };
  readonly runs: number;
  readonly warnings: readonly string[];
  readonly strategies?: readonly (WayAnswer & { readonly name: string })[];
}

/** A row of the comparison. */
export interface StrategyRow {
  readonly name: string;
  readonly yield: number | undefined;
  readonly yield95: readonly [number, number] | undefined;
  readonly largestSigmaNm: number;
  readonly runsWithMissedCut: number;
  /** The highest yield, of equal ones that with the least sigma; none where nothing was to be met. */
  readonly isBest: boolean;
}

/** The monitoring as set and the strategies beside it. */
export function strategyRows(answer: RunsAnswer): StrategyRow[] {
  const rows = [{ ...answer, name: 'as set' }, ...(answer.strategies ?? [])].map((way) => ({
    name: way.name,
    yield: way.yield,
    yield95: way.yield95,
    largestSigmaNm: Math.max(...way.thicknessErrorNm.map(({ sigma }) => sigma)),
    runsWithMissedCut: way.runsWithMissedCut,
  }));
  const best = rows.reduce((one, other) => {
    const gain = (other.yield ?? 0) - (one.yield ?? 0);
    return gain > 0 || (gain === 0 && other.largestSigmaNm < one.largestSigmaNm) ? other : one;
  });
  return rows.map((row) => ({ ...row, isBest: row === best && rows.length > 1 && row.yield !== undefined }));
}

/** The band in which nine of ten runs lie, their median, and the plan where it is still the runs' own. */
export function bandCurves({ percentiles }: RunsAnswer, plan: SurfacePlan | undefined): SpectrumCurve[] {
  const { wavelengthNm, R, incidenceDeg } = percentiles;
  const planned = plan?.curves.find((curve) => curve.incidenceDeg === incidenceDeg);
  return [
    {
      name: `5 to 95 % of the runs, R at ${incidenceDeg}°`,
      wavelengthNm,
      values: R['95'],
      lower: R['5'],
      colour: 'curve-2',
    },
    { name: 'median of the runs', wavelengthNm, values: R['50'], colour: 'curve-2', dash: 'dashed' },
    ...(plan === undefined || planned === undefined
      ? []
      : [
          {
            name: 'the stack itself',
            wavelengthNm: plan.wavelengthNm,
            values: planned.mean.R,
            colour: 'curve-1' as const,
          },
        ]),
  ];
}

/** A warning of the task as a reader of the screen says it: places in the request become layers. */
export function warningWords(warning: string): string {
  const [, layer, rest] = /^monitor\.layers\[(\d+)\][^:]*: (.*)$/s.exec(warning) ?? [];
  if (layer !== undefined) return `Layer ${Number(layer) + 1}: ${rest}`;
  const said = warning.replace(/^crystals\.\w+: /, '');
  return said === warning ? warning : `${said[0]!.toUpperCase()}${said.slice(1)}`;
}

/** What became of the crystals, in a sentence; '' where nothing is known of them. */
export function crystalSentence({ crystals }: WayAnswer, names: readonly string[]): string {
  if (crystals === undefined) return '';
  const { runsLost, lost, runsOverBudget, overBudget } = crystals;
  const mostly = (shares: readonly number[]) => {
    const worst = shares.indexOf(Math.max(...shares));
    return `most often in layer ${names[worst] ?? worst + 1} (${percent(shares[worst]!, 1)})`;
  };
  const parts = [
    runsLost === 0
      ? 'no crystal was lost'
      : `a crystal was lost in ${percent(runsLost, 1)} of the runs, ${mostly(lost)}`,
    runsOverBudget === runsLost
      ? ''
      : `one went beyond its budget or was lost in ${percent(runsOverBudget, 1)}, ${mostly(overBudget)}`,
  ];
  const said = parts.filter((part) => part !== '').join('; ');
  return `${said[0]!.toUpperCase()}${said.slice(1)}.`;
}
