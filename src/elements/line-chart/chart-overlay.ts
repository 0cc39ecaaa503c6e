import type { Chart, Plugin } from 'chart.js';
import type { ChartMarker, LimitZone } from './line-chart-data.ts';

/** What is drawn on a chart besides its curves, with its colours ready. */
export interface ChartOverlay {
  readonly zones: readonly LimitZone[];
  readonly markers: readonly ChartMarker[];
  readonly colours: {
    readonly hatch: string;
    readonly met: string;
    readonly missed: string;
    readonly ink: string;
    readonly soft: string;
    readonly sheet: string;
  };
  readonly font: string;
}

const HATCH_PX = 7;

/** Draws limits (behind the curves) and markers (before them) on the chart that `overlayOf` belongs to. */
export function overlayPlugin(overlayOf: () => ChartOverlay | undefined): Plugin<'line'> {
  return {
    id: 'coatwright-overlay',
    beforeDatasetsDraw(chart) {
      const overlay = overlayOf();
      if (overlay) clipped(chart, () => drawZones(chart, overlay));
    },
    afterDatasetsDraw(chart) {
      const overlay = overlayOf();
      if (overlay) clipped(chart, () => drawMarkers(chart, overlay));
    },
  };
}

function clipped(chart: Chart<'line'>, draw: () => void): void {
  const { ctx, chartArea } = chart;
  ctx.save();
  ctx.beginPath();
  ctx.rect(chartArea.left, chartArea.top, chartArea.width, chartArea.height);
  ctx.clip();
  draw();
  ctx.restore();
}

function drawZones(chart: Chart<'line'>, { zones, colours }: ChartOverlay): void {
  const { ctx, chartArea, scales } = chart;
  for (const zone of zones) {
    const from = scales.x!.getPixelForValue(zone.from);
    const to = Math.max(scales.x!.getPixelForValue(zone.to), from + 2);
    const limit = scales.y!.getPixelForValue(zone.limit);
    const edge = zone.sense === 'below' ? chartArea.top : chartArea.bottom;
    const [top, bottom] = [Math.min(limit, edge), Math.max(limit, edge)];
    ctx.save();
    ctx.beginPath();
    ctx.rect(from, top, to - from, bottom - top);
    ctx.clip();
    ctx.strokeStyle = zone.met ? colours.hatch : colours.missed;
    ctx.globalAlpha = zone.met ? 0.5 : 0.6;
    ctx.lineWidth = 1;
    ctx.beginPath();
    const first = Math.floor((from - (bottom - top)) / HATCH_PX) * HATCH_PX;
    for (let x = first; x < to; x += HATCH_PX) {
      ctx.moveTo(x, bottom);
      ctx.lineTo(x + bottom - top, top);
    }
    ctx.stroke();
    ctx.restore();
    ctx.strokeStyle = zone.met ? colours.met : colours.missed;
    ctx.lineWidth = 2;
    ctx.beginPath();
    ctx.moveTo(from, limit);
    ctx.lineTo(to, limit);
    ctx.stroke();
  }
}

function drawMarkers(chart: Chart<'line'>, { markers, colours, font }: ChartOverlay): void {
  const { ctx, chartArea, scales } = chart;
  ctx.font = font;
  ctx.textBaseline = 'top';
  let labelledTo = Number.NEGATIVE_INFINITY;
  for (const marker of markers) {
    const x = Math.round(scales.x!.getPixelForValue(marker.x)) + 0.5;
    if (marker.kind === 'boundary' || marker.y === undefined) {
      ctx.strokeStyle = colours.hatch;
      ctx.lineWidth = 1;
      ctx.beginPath();
      ctx.moveTo(x, chartArea.top);
      ctx.lineTo(x, chartArea.bottom);
      ctx.stroke();
      const label = marker.label ?? '';
      if (label !== '' && x + 4 > labelledTo) {
        ctx.fillStyle = colours.soft;
        ctx.fillText(label, x + 4, chartArea.top + 4);
        labelledTo = x + 8 + ctx.measureText(label).width;
      }
      continue;
    }
    const y = scales.y!.getPixelForValue(marker.y);
    ctx.beginPath();
    ctx.strokeStyle = colours.ink;
    ctx.lineWidth = 1.5;
    if (marker.kind === 'turning') {
      ctx.arc(x, y, 4, 0, 2 * Math.PI);
      ctx.fillStyle = colours.sheet;
    } else {
      ctx.moveTo(x, y - 5);
      ctx.lineTo(x + 5, y);
      ctx.lineTo(x, y + 5);
      ctx.lineTo(x - 5, y);
      ctx.closePath();
      ctx.fillStyle = marker.kind === 'cut' ? colours.ink : colours.sheet;
    }
    ctx.fill();
    ctx.stroke();
  }
}
