import { html, LitElement, nothing, type PropertyValues } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import { baseStyles, buttonStyles, tableStyles } from '../shared-styles.ts';
import { saveFile } from '../support/save-file.ts';
import { svgToPng } from '../support/svg-to-png.ts';
import { ThemeController } from '../support/theme-controller.ts';
import { printTheme } from '../tokens/print-theme.ts';
import { ChartController } from './chart-controller.ts';
import { chartCsv, chartRows } from './chart-csv.ts';
import { ChartGestures } from './chart-gestures.ts';
import { chartSvg } from './chart-svg.ts';
import { dataTable } from './data-table.ts';
import {
  type ChartAxis,
  type ChartMarker,
  type LimitZone,
  type LineSeries,
  NO_AXIS,
  type ViewRange,
} from './line-chart-data.ts';
import { ChartCursorEvent, ChartViewEvent } from './line-chart-events.ts';
import { lineChartStyles } from './line-chart-styles.ts';
import { withoutStillGhosts } from './moved-ghosts.ts';
import { readout, spokenReadout } from './readout.ts';
import { lastNotAbove, nearestX } from './sample-at.ts';
import { panned, wholeRange, zoomed } from './view-range.ts';

/** What makes the canvas out of date; the cursor and the playhead lie above it and do not. */
const DRAWN: readonly (keyof LineChartElement)[] = ['series', 'zones', 'markers', 'xAxis', 'yAxis', 'view'];

/**
 * Curves over one axis: read out by mouse, touch and keyboard, zoomed and moved, shown as a table of the same
 * data, saved as PNG, SVG or CSV. Keys: left and right move the read-out (Shift: ten samples), Home and End,
 * plus and minus zoom, Page keys move the view, 0 shows all, Escape leaves.
 *
 * @element cw-line-chart
 * @property series - the curves, `LineSeries[]`
 * @property xAxis - title, unit, limits, `ChartAxis`
 * @property yAxis - the same for y, with `log`
 * @property zones - limits drawn as hatched zones, `LimitZone[]`
 * @property markers - boundaries, cuts, turning points, `ChartMarker[]`
 * @property view - the stretch of x that is shown; undefined for all
 * @property cursor - the x that is read out
 * @property playhead - an x marked as "now"
 * @property label - what the chart shows, in a few words
 * @property fileName - name of saved files without ending
 * @property digits - significant digits of figures read out
 * @property bare - without the row of tools
 * @fires cw-chart-cursor - the reader points at another x
 * @fires cw-chart-view - the reader has zoomed or moved
 * @csspart plot - the plotted area
 * @csspart readout - figures under the chart
 * @cssproperty [--cw-chart-height=20rem] - height of the plotted area
 * @cssproperty [--cw-size-text] - size of type; larger for a chart that is read from afar
 */
export class LineChartElement extends LitElement {
  static override styles = [baseStyles, buttonStyles, tableStyles, lineChartStyles];

  @property({ attribute: false }) series: readonly LineSeries[] = [];
  @property({ attribute: false }) xAxis: ChartAxis = NO_AXIS;
  @property({ attribute: false }) yAxis: ChartAxis = NO_AXIS;
  @property({ attribute: false }) zones: readonly LimitZone[] = [];
  @property({ attribute: false }) markers: readonly ChartMarker[] = [];
  @property({ attribute: false }) view: ViewRange | undefined;
  @property({ type: Number }) cursor: number | undefined;
  @property({ type: Number }) playhead: number | undefined;
  @property() label = 'Chart';
  @property({ attribute: 'file-name' }) fileName = 'chart';
  @property({ type: Number }) digits = 4;
  @property({ type: Boolean }) bare = false;

  @state() private tableShown = false;
  @query('canvas') private readonly canvas!: HTMLCanvasElement;
  @query('.crosshair') private readonly crosshair!: HTMLElement;
  @query('.playhead') private readonly playheadLine!: HTMLElement;
  @query('.marquee') private readonly marquee!: HTMLElement;

  private readonly theme = new ThemeController(this);
  private readonly chart: ChartController = new ChartController(this, this.theme, () => this.place());
  private drawnTheme = 0;
  /** The curves that there is something to see of. */
  private drawn: readonly LineSeries[] = [];
  private readonly gestures = new ChartGestures({
    pointAt: (pixel) => this.point(pixel === undefined ? undefined : this.chart.xAt(pixel)),
    zoomAt: (pixel, factor) => this.zoom(factor, this.chart.xAt(pixel)),
    panBy: (pixels) => this.pan(-pixels / Math.max(this.canvas.clientWidth, 1)),
    selecting: (from, to) => this.frameSelection(from, to),
    select: (from, to) => this.selectStretch(from, to),
    showAll: () => this.show(undefined),
  });

  override render() {
    const view = this.view ?? this.whole;
    return html`
      <div
        part="plot"
        class="plot"
        tabindex="0"
        role="slider"
        aria-label="${this.label}, read-out at"
        aria-valuemin=${view?.min ?? 0}
        aria-valuemax=${view?.max ?? 0}
        aria-valuenow=${this.cursor ?? view?.min ?? 0}
        aria-valuetext=${spokenReadout(this.drawn, this.xAxis, this.yAxis, this.cursor, this.digits)}
        @keydown=${this.onKeydown}
        @pointerdown=${this.gestures.onPointerDown}
        @pointermove=${this.gestures.onPointerMove}
        @pointerup=${this.gestures.onPointerUp}
        @pointercancel=${this.gestures.onPointerCancel}
        @pointerleave=${this.gestures.onPointerLeave}
        @touchstart=${this.gestures.onTouch}
        @touchmove=${this.gestures.onTouch}
        @wheel=${this.gestures.onWheel}
        @dblclick=${this.gestures.onDoubleClick}
      >
        <canvas aria-hidden="true"></canvas>
        <div class="overlay crosshair" hidden></div>
        <div class="overlay playhead" hidden></div>
        <div class="overlay marquee" hidden></div>
      </div>
      ${readout(this.drawn, this.zones, this.xAxis, this.yAxis, this.cursor, this.digits, this.theme.patterns)}
      ${this.bare ? nothing : this.tools()}
      ${this.tableShown ? dataTable(chartRows(this.drawn, this.xAxis, this.yAxis, view?.min, view?.max), this.label, this.xAxis, this.digits) : nothing}
    `;
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('series')) this.drawn = withoutStillGhosts(this.series);
  }

  protected override updated(changed: PropertyValues<this>): void {
    const stale = !this.chart.exists || this.drawnTheme !== this.theme.version;
    if (stale || DRAWN.some((name) => changed.has(name))) {
      this.drawnTheme = this.theme.version;
      const { drawn: series, zones, markers, xAxis, yAxis, view } = this;
      this.chart.draw(this.canvas, { series, zones, markers, xAxis, yAxis, view });
    }
    this.place();
  }

  /** The chart as SVG text in the colours of paper. */
  toSvg(): string {
    return this.picture().text;
  }

  /** The data of the shown stretch as comma-separated text. */
  toCsv(): string {
    const view = this.view ?? this.whole;
    return chartCsv(chartRows(this.drawn, this.xAxis, this.yAxis, view?.min, view?.max));
  }

  /** The chart as a PNG of twice the size on the screen, in the colours of paper. */
  async toPng(): Promise<Blob> {
    const { text, width, height } = this.picture();
    return svgToPng(text, width, height);
  }

  private get whole(): ViewRange | undefined {
    const all = wholeRange(this.drawn);
    return all && { min: this.xAxis.min ?? all.min, max: this.xAxis.max ?? all.max };
  }

  private picture() {
    const frame = this.chart.frame(this.xAxis, this.yAxis);
    if (frame === undefined) throw new Error('a chart is saved only while it stands on a page');
    return chartSvg(
      { series: this.drawn, zones: this.zones, markers: this.markers, frame, title: this.label },
      printTheme,
    );
  }

  private tools() {
    const zoomIn = () => this.zoom(1 / 1.5);
    const zoomOut = () => this.zoom(1.5);
    return html`
      <div class="tools" role="group" aria-label="${this.label}: tools">
        <button class="quiet" @click=${zoomIn} aria-label="Zoom in">+</button>
        <button class="quiet" @click=${zoomOut} ?disabled=${this.view === undefined} aria-label="Zoom out">−</button>
        <button class="quiet" @click=${() => this.show(undefined)} ?disabled=${this.view === undefined}>All</button>
        <span class="gap"></span>
        <button class="quiet" aria-pressed=${this.tableShown} @click=${() => (this.tableShown = !this.tableShown)}>Table</button>
        <button class="quiet" aria-label="Save as CSV" @click=${() => this.save('csv')}>CSV</button>
        <button class="quiet" aria-label="Save as SVG" @click=${() => this.save('svg')}>SVG</button>
        <button class="quiet" aria-label="Save as PNG" @click=${() => this.save('png')}>PNG</button>
      </div>
    `;
  }

  private async save(kind: 'csv' | 'svg' | 'png'): Promise<void> {
    const content =
      kind === 'csv'
        ? new Blob([this.toCsv()], { type: 'text/csv' })
        : kind === 'svg'
          ? new Blob([this.toSvg()], { type: 'image/svg+xml' })
          : await this.toPng();
    saveFile(`${this.fileName}.${kind}`, content);
  }

  /** Moves the lines that lie above the canvas to where their values are now. */
  private place(): void {
    const frame = this.chart.frame(this.xAxis, this.yAxis);
    if (frame === undefined) return;
    for (const [line, x] of [
      [this.crosshair, this.cursor],
      [this.playheadLine, this.playhead],
    ] as const) {
      const at = x === undefined ? Number.NaN : frame.x.place(x);
      line.hidden = !(at >= frame.area.left - 0.5 && at <= frame.area.right + 0.5);
      if (!line.hidden)
        line.style.cssText = `left:${at}px;top:${frame.area.top}px;height:${frame.area.bottom - frame.area.top}px`;
    }
  }

  private frameSelection(from: number, to: number): void {
    const frame = this.chart.frame(this.xAxis, this.yAxis);
    this.marquee.hidden = frame === undefined || from === to;
    if (frame === undefined || from === to) return;
    const [left, right] = [
      Math.max(Math.min(from, to), frame.area.left),
      Math.min(Math.max(from, to), frame.area.right),
    ];
    this.marquee.style.cssText = `left:${left}px;width:${right - left}px;top:${frame.area.top}px;height:${frame.area.bottom - frame.area.top}px`;
  }

  private selectStretch(from: number, to: number): void {
    this.marquee.hidden = true;
    const frame = this.chart.frame(this.xAxis, this.yAxis);
    if (frame === undefined || this.whole === undefined) return;
    const inside = (pixel: number) => Math.min(Math.max(pixel, frame.area.left), frame.area.right);
    const [min, max] = [
      this.chart.xAt(inside(Math.min(from, to))),
      this.chart.xAt(inside(Math.max(from, to))),
    ];
    if (min === undefined || max === undefined || max <= min) return;
    this.show(zoomed({ min, max }, this.whole, (min + max) / 2, 1));
  }

  private show(view: ViewRange | undefined): void {
    if (view?.min === this.view?.min && view?.max === this.view?.max) return;
    this.view = view;
    this.dispatchEvent(new ChartViewEvent(view));
  }

  private zoom(factor: number, at?: number): void {
    const whole = this.whole;
    const view = this.view ?? whole;
    if (view === undefined || whole === undefined) return;
    this.show(zoomed(view, whole, at ?? this.cursor ?? (view.min + view.max) / 2, factor));
  }

  private pan(share: number): void {
    const whole = this.whole;
    if (this.view !== undefined && whole !== undefined) this.show(panned(this.view, whole, share));
  }

  private point(x: number | undefined): void {
    const at = x === undefined ? undefined : nearestX(this.mainX, x);
    if (at === this.cursor) return;
    this.cursor = at;
    this.dispatchEvent(new ChartCursorEvent(at));
  }

  /** The samples that the read-out steps over: those of the first curve that is no ghost. */
  private get mainX(): ArrayLike<number> {
    return this.drawn.find((item) => !item.ghost)?.x ?? [];
  }

  private step(samples: number): void {
    const x = this.mainX;
    const view = this.view ?? this.whole;
    if (x.length === 0 || view === undefined) return;
    const at =
      this.cursor === undefined
        ? lastNotAbove(x, view.min) + (samples < 0 ? 1 : 0)
        : lastNotAbove(x, this.cursor);
    this.point(x[Math.min(Math.max(at + samples, 0), x.length - 1)]);
    if (
      this.view &&
      this.cursor !== undefined &&
      (this.cursor < this.view.min || this.cursor > this.view.max)
    )
      this.pan(Math.sign(samples) / 2);
  }

  private readonly onKeydown = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const far = event.shiftKey ? 10 : 1;
    const deeds: Readonly<Record<string, () => void>> = {
      ArrowRight: () => this.step(far),
      ArrowUp: () => this.step(far),
      ArrowLeft: () => this.step(-far),
      ArrowDown: () => this.step(-far),
      Home: () => this.point((this.view ?? this.whole)?.min),
      End: () => this.point((this.view ?? this.whole)?.max),
      PageUp: () => this.pan(-0.5),
      PageDown: () => this.pan(0.5),
      '+': () => this.zoom(1 / 1.5),
      '=': () => this.zoom(1 / 1.5),
      '-': () => this.zoom(1.5),
      '0': () => this.show(undefined),
      Escape: () => this.point(undefined),
    };
    const deed = deeds[event.key];
    if (deed === undefined) return;
    event.preventDefault();
    deed();
  };
}
