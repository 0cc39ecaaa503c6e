import { csvText } from '../../base/csv.ts';
import { axisTitle, type ChartAxis, type LineSeries } from './line-chart-data.ts';
import { sampleAt } from './sample-at.ts';

/** The chart's data as rows: the x of the first curve that is no ghost, then every curve at that x. */
export interface ChartRows {
  readonly headings: readonly string[];
  readonly rows: readonly (readonly (number | undefined)[])[];
}

/** Rows of the same data that the curves show, within `from` and `to` where given. */
export function chartRows(
  series: readonly LineSeries[],
  xAxis: ChartAxis,
  yAxis: ChartAxis,
  from = Number.NEGATIVE_INFINITY,
  to = Number.POSITIVE_INFINITY,
): ChartRows {
  const unit = yAxis.unit === '' ? '' : ` / ${yAxis.unit}`;
  const headings = [
    axisTitle(xAxis),
    ...series.flatMap((item) => columnsOf(item).map((name) => name + unit)),
  ];
  const xs = [...new Set(series.filter((item) => !item.ghost).flatMap((item) => Array.from(item.x)))]
    .filter((x) => x >= from && x <= to)
    .sort((a, b) => a - b);
  const rows = xs.map((x) => [
    x,
    ...series.flatMap((item) =>
      item.lower === undefined
        ? [sampleAt(item.x, item.y, x)]
        : [sampleAt(item.x, item.lower, x), sampleAt(item.x, item.y, x)],
    ),
  ]);
  return { headings, rows };
}

function columnsOf(item: LineSeries): string[] {
  const name = item.ghost ? `${item.name} (before)` : item.name;
  return item.lower === undefined ? [name] : [`${name}, lower`, `${name}, upper`];
}

/** Rows as comma-separated text with a decimal point. */
export function chartCsv({ headings, rows }: ChartRows): string {
  return csvText(
    headings,
    rows.map((row) => row.map((value) => value ?? '')),
  );
}
