import {
  Chart,
  type ChartDataset,
  Filler,
  LinearScale,
  LineController,
  LineElement,
  LogarithmicScale,
  PointElement,
  type ScaleOptions,
} from 'chart.js';
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { ThemeController } from '../support/theme-controller.ts';
import type { ChartFrame, FrameAxis } from './chart-frame.ts';
import { type ChartOverlay, overlayPlugin } from './chart-overlay.ts';
import { tickText } from './figure-text.ts';
import {
  axisTitle,
  type ChartAxis,
  type ChartMarker,
  type LimitZone,
  type LineSeries,
  type ViewRange,
} from './line-chart-data.ts';
import { type SeriesStyle, seriesStyles } from './series-style.ts';

Chart.register(Filler, LinearScale, LineController, LineElement, LogarithmicScale, PointElement);

interface Dot {
  x: number;
  y: number;
}
type Curve = ChartDataset<'line', Dot[]>;

/** All that a chart shows. */
export interface ChartPlan {
  readonly series: readonly LineSeries[];
  readonly zones: readonly LimitZone[];
  readonly markers: readonly ChartMarker[];
  readonly xAxis: ChartAxis;
  readonly yAxis: ChartAxis;
  readonly view: ViewRange | undefined;
}

/** Keeps one Chart.js line chart for its host: made when first drawn, resized with it, destroyed with it. */
export class ChartController implements ReactiveController {
  private chart: Chart<'line', Dot[]> | undefined;
  private overlay: ChartOverlay | undefined;
  private readonly theme: ThemeController;
  private readonly resized: () => void;

  constructor(host: ReactiveControllerHost, theme: ThemeController, resized: () => void) {
    this.theme = theme;
    this.resized = resized;
    host.addController(this);
  }

  hostDisconnected(): void {
    this.chart?.destroy();
    this.chart = undefined;
  }

  /** True while there is a chart, that is between the first drawing and the host's leaving the page. */
  get exists(): boolean {
    return this.chart !== undefined;
  }

  /** Draws the plan on `canvas`. */
  draw(canvas: HTMLCanvasElement, plan: ChartPlan): void {
    this.chart ??= this.create(canvas);
    const { chart, theme } = this;
    const font = `${theme.smallTypePx}px ${theme.value('font-text') || 'sans-serif'}`;
    this.overlay = {
      zones: plan.zones,
      markers: plan.markers,
      font,
      colours: {
        hatch: theme.colour('rule-strong'),
        met: theme.colour('met'),
        missed: theme.colour('missed'),
        ink: theme.colour('ink'),
        soft: theme.colour('ink-soft'),
        sheet: theme.colour('sheet'),
      },
    };
    const before = chart.data.datasets as Curve[];
    const next = this.curves(plan.series);
    // Datasets keep their identity: Chart.js then reuses the points of the frame before, and their look with them.
    chart.data.datasets = next.map((curve, i) =>
      Object.assign(hasLook(before[i], curve) ? before[i] : {}, curve),
    );
    const { x, y } = (chart.options.scales ?? {}) as { x: object; y: object };
    Object.assign(x, this.scale(plan.xAxis, 'x'), {
      min: plan.view?.min ?? plan.xAxis.min,
      max: plan.view?.max ?? plan.xAxis.max,
    });
    Object.assign(y, this.scale(plan.yAxis, 'y'), { min: plan.yAxis.min, max: plan.yAxis.max });
    const highest = plan.zones.filter((zone) => zone.sense === 'below').map((zone) => zone.limit);
    if (highest.length > 0 && plan.yAxis.max === undefined && plan.yAxis.log !== true)
      Object.assign(y, { suggestedMax: Math.max(...highest) * 1.6 });
    else Object.assign(y, { suggestedMax: undefined });
    chart.update('none');
  }

  /** The value of x under a picture coordinate within the chart, or undefined outside the plotted area. */
  xAt(pixel: number): number | undefined {
    const { chart } = this;
    if (chart === undefined || pixel < chart.chartArea.left - 1 || pixel > chart.chartArea.right + 1)
      return undefined;
    return chart.scales.x?.getValueForPixel(pixel);
  }

  /** The chart's frame as it stands now. */
  frame(xAxis: ChartAxis, yAxis: ChartAxis): ChartFrame | undefined {
    const { chart } = this;
    if (chart?.chartArea === undefined) return undefined;
    const axis = (id: 'x' | 'y', described: ChartAxis): FrameAxis => {
      const scale = chart.scales[id]!;
      const place = (value: number) => scale.getPixelForValue(value);
      const ticks = scale.ticks.map((tick) => ({ at: place(tick.value), text: String(tick.label ?? '') }));
      return { title: axisTitle(described), ticks, place };
    };
    const { left, right, top, bottom } = chart.chartArea;
    return {
      width: chart.width,
      height: chart.height,
      area: { left, right, top, bottom },
      x: axis('x', xAxis),
      y: axis('y', yAxis),
    };
  }

  private create(canvas: HTMLCanvasElement): Chart<'line', Dot[]> {
    return new Chart<'line', Dot[]>(canvas, {
      type: 'line',
      data: { datasets: [] },
      options: {
        animation: false,
        responsive: true,
        maintainAspectRatio: false,
        parsing: false,
        normalized: true,
        events: [],
        spanGaps: false,
        scales: { x: { type: 'linear' }, y: { type: 'linear' } },
        onResize: () => requestAnimationFrame(this.resized),
      },
      plugins: [overlayPlugin(() => this.overlay)],
    });
  }

  private scale(axis: ChartAxis, id: 'x' | 'y'): ScaleOptions<'linear'> | ScaleOptions<'logarithmic'> {
    const { theme } = this;
    const font = { size: theme.smallTypePx, family: theme.value('font-text') };
    return {
      type: axis.log ? 'logarithmic' : 'linear',
      title: { display: true, text: axisTitle(axis), color: theme.colour('ink-soft'), font },
      border: { color: theme.colour('ink-soft') },
      grid: { color: theme.colour('rule'), tickLength: 4 },
      ticks: {
        color: theme.colour('ink-soft'),
        font,
        maxRotation: 0,
        autoSkipPadding: id === 'x' ? 18 : 6,
        callback: (value: string | number, _index: number, ticks: readonly { value: number }[]) => {
          if (axis.log) return isDecade(Number(value)) ? tickText(Number(value), Number(value)) : '';
          return tickText(Number(value), Math.abs((ticks[1]?.value ?? 1) - (ticks[0]?.value ?? 0)) || 1);
        },
      },
    } as unknown as ScaleOptions<'linear'>;
  }

  private curves(series: readonly LineSeries[]): Curve[] {
    const styles = seriesStyles(series, this.theme.patterns);
    const thicker = Math.max(1, this.theme.smallTypePx / 12.3);
    return series.flatMap((item, index) => {
      const colour = this.theme.colour(styles[index]!.token);
      const upper = line(item, item.y, styles[index]!, colour, thicker);
      if (item.lower === undefined) return [upper];
      const bare = { ...upper, borderWidth: 0, borderColor: 'transparent', showLine: true };
      return [
        { ...bare, data: dots(item.x, item.lower), fill: false },
        { ...bare, fill: '-1', backgroundColor: `color-mix(in srgb, ${colour} 18%, transparent)` },
      ];
    });
  }
}

/** Whether the points that a dataset has drawn look as those of a curve are to. */
function hasLook(drawn: Curve | undefined, { borderColor, pointRadius }: Curve): drawn is Curve {
  return drawn?.borderColor === borderColor && drawn?.pointRadius === pointRadius;
}

function line(
  item: LineSeries,
  y: ArrayLike<number>,
  style: SeriesStyle,
  colour: string,
  thicker: number,
): Curve {
  return {
    data: dots(item.x, y),
    borderColor: colour,
    backgroundColor: colour,
    borderWidth: style.widthPx * thicker,
    borderDash: [...style.dash],
    borderJoinStyle: 'round',
    pointRadius: item.points ? 2.5 : 0,
    pointHitRadius: 0,
    pointHoverRadius: 0,
    showLine: item.points !== true,
    fill: false,
    order: item.ghost ? 1 : 0,
  };
}

function dots(x: ArrayLike<number>, y: ArrayLike<number>): Dot[] {
  const made: Dot[] = new Array(x.length);
  for (let i = 0; i < x.length; i += 1) made[i] = { x: x[i]!, y: y[i]! };
  return made;
}

function isDecade(value: number): boolean {
  const exponent = Math.log10(value);
  return Math.abs(exponent - Math.round(exponent)) < 1e-9;
}
