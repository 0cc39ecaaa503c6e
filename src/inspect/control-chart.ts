import { InputError } from '../base/errors.ts';

/**
 * Constants of charts of individuals with moving ranges of two: d2, 3/d2 and D4 (W. A. Shewhart 1931; tables in
 * ASTM E2587 and D. C. Montgomery, Introduction to Statistical Quality Control, appendix; from memory, d2 and D4
 * checked against their closed forms in a test).
 */
export const RANGE_OF_TWO = { d2: 1.128, limitFactor: 2.66, D4: 3.267 } as const;

/** Points on one side of the centre, and points rising or falling, that count as a signal (L. S. Nelson, J. Qual. Technol. 16, 237, 1984, tests 2 and 3). */
const SIDE_RUN = 9;
const TREND_RUN = 6;

/** A chart of individuals and moving ranges. */
export interface ControlChart {
  readonly centre: number;
  readonly lower: number;
  readonly upper: number;
  readonly meanRange: number;
  readonly upperRange: number;
  /** Standard deviation from run to run, from the moving ranges. */
  readonly sigma: number;
  readonly alarms: readonly ControlAlarm[];
}

export interface ControlAlarm {
  /** Number of the point, from 0. */
  readonly point: number;
  readonly kind: 'outside' | 'jump' | 'one-sided' | 'trend';
  readonly sentence: string;
}

/** The least number of runs from which limits are drawn. */
export const LEAST_RUNS = 5;
/** The number of runs from which limits are usually trusted (common practice, no source). */
export const TRUSTED_RUNS = 20;

/**
 * Draws the chart of a figure over the runs (a tooling factor, say), or gives `undefined` for fewer than
 * `LEAST_RUNS`, from which no limits follow. `names` are those of the points, for the sentences.
 */
export function controlChart(
  values: readonly number[],
  names: readonly string[] = values.map((_, i) => `run ${i + 1}`),
): ControlChart | undefined {
  const wrong = values.findIndex((value) => !Number.isFinite(value));
  if (wrong >= 0) throw new InputError(`[${wrong}]`, `${values[wrong]} is not a finite number`);
  if (values.length < LEAST_RUNS) return undefined;
  const ranges = values.slice(1).map((value, i) => Math.abs(value - values[i]!));
  const meanRange = mean(ranges);
  const centre = mean(values);
  const reach = RANGE_OF_TWO.limitFactor * meanRange;
  const chart = {
    centre,
    lower: centre - reach,
    upper: centre + reach,
    meanRange,
    upperRange: RANGE_OF_TWO.D4 * meanRange,
    sigma: meanRange / RANGE_OF_TWO.d2,
  };
  return { ...chart, alarms: alarmsOf(values, ranges, names, chart) };
}

function alarmsOf(
  values: readonly number[],
  ranges: readonly number[],
  names: readonly string[],
  { centre, lower, upper, upperRange }: Omit<ControlChart, 'alarms'>,
): ControlAlarm[] {
  const alarms: ControlAlarm[] = [];
  let side = 0;
  let trend = 0;
  for (const [i, value] of values.entries()) {
    const run = names[i]!;
    if (value < lower || value > upper)
      alarms.push({ point: i, kind: 'outside', sentence: `${run} lies outside the control limits` });
    if (ranges[i - 1]! > upperRange)
      alarms.push({
        point: i,
        kind: 'jump',
        sentence: `${run} jumps further from the one before than usual`,
      });
    const direction = Math.sign(value - centre);
    side = direction === Math.sign(side) ? side + direction : direction;
    if (Math.abs(side) === SIDE_RUN)
      alarms.push({
        point: i,
        kind: 'one-sided',
        sentence: `${SIDE_RUN} runs up to ${run} lie on one side of the centre`,
      });
    const step = i === 0 ? 0 : Math.sign(value - values[i - 1]!);
    trend = step === Math.sign(trend) ? trend + step : step;
    if (Math.abs(trend) === TREND_RUN - 1)
      alarms.push({
        point: i,
        kind: 'trend',
        sentence: `${TREND_RUN} runs up to ${run} keep ${step > 0 ? 'rising' : 'falling'}`,
      });
  }
  return alarms;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
