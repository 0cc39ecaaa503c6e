import { html, nothing, svg } from 'lit';
import { axisPlace, figureText } from './figure-text.ts';
import type { ChartAxis, LimitZone, LineSeries } from './line-chart-data.ts';
import { sampleAt } from './sample-at.ts';
import { type SeriesStyle, seriesStyles } from './series-style.ts';

const withUnit = (text: string, unit: string) => (unit === '' || text === '–' ? text : `${text} ${unit}`);

/** The curve's value at x as text; bands give both edges. */
function valueText(item: LineSeries, x: number, unit: string, digits: number): string {
  const upper = figureText(sampleAt(item.x, item.y, x), digits);
  if (item.lower === undefined) return withUnit(upper, unit);
  const lower = figureText(sampleAt(item.x, item.lower, x), digits);
  return withUnit(`${lower} to ${upper}`, unit);
}

/** The row under a chart: key and name of every curve, with its value where the reader points. */
export function readout(
  series: readonly LineSeries[],
  zones: readonly LimitZone[],
  xAxis: ChartAxis,
  yAxis: ChartAxis,
  cursor: number | undefined,
  digits: number,
  patterns: boolean,
) {
  const styles = seriesStyles(series, patterns);
  const place = cursor === undefined ? nothing : html`<li class="place">${axisPlace(xAxis, cursor)}</li>`;
  return html`
    <ul part="readout" class="readout">
      ${place}
      ${series.map(
        (item, index) => html`
          <li class=${item.ghost ? 'ghost' : ''}>
            ${key(item, styles[index]!)}
            <span>${item.name}${item.ghost ? ' (before)' : ''}</span>
            ${cursor === undefined ? nothing : html`<b>${valueText(item, cursor, yAxis.unit, digits)}</b>`}
          </li>
        `,
      )}
      ${zones.map(
        (zone) => html`
          <li class=${zone.met ? 'met' : 'missed'}>
            <span aria-hidden="true">${zone.met ? '✓' : '✕'}</span>
            <span>${zone.name}<span class="visually-hidden">${zone.met ? ', met' : ', missed'}</span></span>
          </li>
        `,
      )}
    </ul>
  `;
}

/** The little piece of line that stands for a curve. */
function key(item: LineSeries, style: SeriesStyle) {
  const colour = `var(--cw-${style.token})`;
  const mark =
    item.lower !== undefined
      ? svg`<rect y="1" width="22" height="8" style="fill:${colour};fill-opacity:.25"></rect>`
      : item.points
        ? svg`<circle cx="11" cy="5" r="3" style="fill:${colour}"></circle>`
        : svg`<path d="M0 5H22" stroke-dasharray=${style.dash.join(' ')} style="stroke:${colour};stroke-width:${style.widthPx}"></path>`;
  return html`<svg class="key" width="22" height="10" aria-hidden="true">${mark}</svg>`;
}

/** The read-out as one sentence for a screen reader; without a cursor each curve's lowest and highest value. */
export function spokenReadout(
  series: readonly LineSeries[],
  xAxis: ChartAxis,
  yAxis: ChartAxis,
  cursor: number | undefined,
  digits: number,
): string {
  const shown = series.filter((item) => !item.ghost);
  if (shown.length === 0) return 'no curve';
  if (cursor !== undefined) {
    const values = series.map(
      (item) => `${item.name}${item.ghost ? ' before' : ''} ${valueText(item, cursor, yAxis.unit, digits)}`,
    );
    return `${axisPlace(xAxis, cursor)}: ${values.join(', ')}`;
  }
  return shown.map((item) => rangeText(item, xAxis, yAxis, digits)).join('; ');
}

function rangeText(item: LineSeries, xAxis: ChartAxis, yAxis: ChartAxis, digits: number): string {
  let low = -1;
  let high = -1;
  for (let i = 0; i < item.x.length; i += 1) {
    if (!Number.isFinite(item.y[i]!)) continue;
    if (low < 0 || item.y[i]! < item.y[low]!) low = i;
    if (high < 0 || item.y[i]! > item.y[high]!) high = i;
  }
  if (low < 0) return `${item.name} has no values`;
  const at = (i: number) =>
    `${withUnit(figureText(item.y[i], digits), yAxis.unit)} at ${axisPlace(xAxis, item.x[i])}`;
  return `${item.name} from ${at(low)} to ${at(high)}`;
}
