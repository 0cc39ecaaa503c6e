import type { ThemeColours } from '../tokens/token-names.ts';
import type { ChartFrame } from './chart-frame.ts';
import type { ChartMarker, LimitZone, LineSeries } from './line-chart-data.ts';
import { seriesStyles } from './series-style.ts';

const FONT = 'font-family="Ubuntu, Calibri, DejaVu Sans, sans-serif" font-size="12"';
const LEGEND_LINE_PX = 18;

/** What an exported picture shows. */
export interface ChartPicture {
  readonly series: readonly LineSeries[];
  readonly zones: readonly LimitZone[];
  readonly markers: readonly ChartMarker[];
  readonly frame: ChartFrame;
  readonly title: string;
}

/** The chart as a standing SVG file in the colours of `theme`, its legend beneath. */
export function chartSvg(
  picture: ChartPicture,
  theme: ThemeColours,
): { text: string; width: number; height: number } {
  const { frame, series } = picture;
  const height = frame.height + LEGEND_LINE_PX * series.length + 8;
  const { left, right, top, bottom } = frame.area;
  const text = `<svg xmlns="http://www.w3.org/2000/svg" width="${frame.width}" height="${height}" viewBox="0 0 ${frame.width} ${height}">
<title>${escaped(picture.title)}</title>
<defs>
<clipPath id="area"><rect x="${left}" y="${top}" width="${right - left}" height="${bottom - top}"/></clipPath>
<pattern id="hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V7" stroke="${theme['rule-strong']}"/></pattern>
</defs>
<rect width="100%" height="100%" fill="${theme.sheet}"/>
${axesSvg(frame, theme)}
<g clip-path="url(#area)">
${picture.zones.map((zone) => zoneSvg(zone, frame, theme)).join('\n')}
${curvesSvg(series, frame, theme)}
${picture.markers.map((marker) => markerSvg(marker, frame, theme)).join('\n')}
</g>
${legendSvg(series, frame, theme)}
</svg>
`;
  return { text, width: frame.width, height };
}

function axesSvg({ area, x, y }: ChartFrame, theme: ThemeColours): string {
  const { left, right, top, bottom } = area;
  const parts: string[] = [];
  for (const { at, text } of x.ticks) {
    parts.push(`<path d="M${px(at)} ${top}V${bottom}" stroke="${theme.rule}"/>`);
    parts.push(
      `<text x="${px(at)}" y="${bottom + 16}" text-anchor="middle" ${FONT} fill="${theme['ink-soft']}">${text}</text>`,
    );
  }
  for (const { at, text } of y.ticks) {
    parts.push(`<path d="M${left} ${px(at)}H${right}" stroke="${theme.rule}"/>`);
    parts.push(
      `<text x="${left - 6}" y="${px(at + 4)}" text-anchor="end" ${FONT} fill="${theme['ink-soft']}">${text}</text>`,
    );
  }
  const middle = (top + bottom) / 2;
  parts.push(`<path d="M${left} ${top}V${bottom}H${right}" fill="none" stroke="${theme.ink}"/>`);
  parts.push(
    `<text x="${(left + right) / 2}" y="${bottom + 34}" text-anchor="middle" ${FONT} fill="${theme.ink}">${escaped(x.title)}</text>`,
  );
  parts.push(
    `<text transform="translate(14 ${middle}) rotate(-90)" text-anchor="middle" ${FONT} fill="${theme.ink}">${escaped(y.title)}</text>`,
  );
  return parts.join('\n');
}

function zoneSvg(zone: LimitZone, frame: ChartFrame, theme: ThemeColours): string {
  const [from, to] = [frame.x.place(zone.from), frame.x.place(zone.to)];
  const limit = frame.y.place(zone.limit);
  const edge = zone.sense === 'below' ? frame.area.top : frame.area.bottom;
  const box = `x="${px(from)}" y="${px(Math.min(limit, edge))}" width="${px(Math.max(to - from, 2))}" height="${px(Math.abs(edge - limit))}"`;
  const colour = zone.met ? theme.met : theme.missed;
  return `<rect ${box} fill="url(#hatch)" opacity="0.45"/><path d="M${px(from)} ${px(limit)}H${px(Math.max(to, from + 2))}" stroke="${colour}" stroke-width="2"/>`;
}

/** The path of a curve, a new stroke after every gap. */
function pathOf(x: ArrayLike<number>, y: ArrayLike<number>, frame: ChartFrame): string {
  let path = '';
  let pen = 'M';
  for (let i = 0; i < x.length; i += 1) {
    const [across, down] = [frame.x.place(x[i]!), frame.y.place(y[i]!)];
    if (Number.isFinite(across) && Number.isFinite(down)) {
      path += `${pen}${px(across)} ${px(down)}`;
      pen = 'L';
    } else pen = 'M';
  }
  return path;
}

function curvesSvg(series: readonly LineSeries[], frame: ChartFrame, theme: ThemeColours): string {
  const styles = seriesStyles(series, true);
  return series
    .map((item, index) => {
      const style = styles[index]!;
      const colour = theme[style.token];
      const upper = pathOf(item.x, item.y, frame);
      if (item.lower !== undefined) {
        const back = pathOf(Array.from(item.x).reverse(), Array.from(item.lower).reverse(), frame);
        return `<path d="${upper}${back.replace('M', 'L')}Z" fill="${colour}" fill-opacity="0.18"/>`;
      }
      if (item.points) return pointsSvg(item, frame, colour);
      const dash = style.dash.length > 0 ? ` stroke-dasharray="${style.dash.join(' ')}"` : '';
      return `<path d="${upper}" fill="none" stroke="${colour}" stroke-width="${style.widthPx}"${dash}/>`;
    })
    .join('\n');
}

function pointsSvg(item: LineSeries, frame: ChartFrame, colour: string): string {
  return Array.from(item.x, (x, i) => [frame.x.place(x), frame.y.place(item.y[i]!)] as const)
    .filter(([across, down]) => Number.isFinite(across) && Number.isFinite(down))
    .map(([across, down]) => `<circle cx="${px(across)}" cy="${px(down)}" r="2.5" fill="${colour}"/>`)
    .join('');
}

function markerSvg(marker: ChartMarker, frame: ChartFrame, theme: ThemeColours): string {
  const x = px(frame.x.place(marker.x));
  if (marker.kind === 'boundary' || marker.y === undefined) {
    const label = `<text x="${x + 4}" y="${frame.area.top + 12}" ${FONT} fill="${theme['ink-soft']}">${escaped(marker.label ?? '')}</text>`;
    return `<path d="M${x} ${frame.area.top}V${frame.area.bottom}" stroke="${theme['rule-strong']}"/>${label}`;
  }
  const y = px(frame.y.place(marker.y));
  if (marker.kind === 'turning')
    return `<circle cx="${x}" cy="${y}" r="4" fill="${theme.sheet}" stroke="${theme.ink}" stroke-width="1.5"/>`;
  return `<path d="M${x} ${y - 5}l5 5l-5 5l-5-5z" fill="${theme.ink}"/>`;
}

function legendSvg(series: readonly LineSeries[], frame: ChartFrame, theme: ThemeColours): string {
  const styles = seriesStyles(series, true);
  return series
    .map((item, index) => {
      const style = styles[index]!;
      const y = frame.height + LEGEND_LINE_PX * index + 10;
      const dash = style.dash.length > 0 ? ` stroke-dasharray="${style.dash.join(' ')}"` : '';
      const name = item.ghost ? `${item.name} (before)` : item.name;
      return `<path d="M${frame.area.left} ${y}h26" stroke="${theme[style.token]}" stroke-width="2"${dash}/><text x="${frame.area.left + 34}" y="${y + 4}" ${FONT} fill="${theme.ink}">${escaped(name)}</text>`;
    })
    .join('\n');
}

const px = (value: number) => Math.round(value * 100) / 100;

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}
