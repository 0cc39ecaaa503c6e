import { html, LitElement, type PropertyValues } from 'lit';
import { property, query } from 'lit/decorators.js';
import '../line-chart/cw-line-chart.ts';
import type { LineChartElement } from '../line-chart/line-chart-element.ts';
import { baseStyles } from '../shared-styles.ts';
import { monitorTraceStyles } from './monitor-trace-styles.ts';
import { type LayerTrace, type TraceAxis, type TracePlan, tracePlan } from './trace-series.ts';

/** What the curves depend on. */
const PLANNED: readonly (keyof MonitorTraceElement)[] = ['layers', 'previous', 'only', 'against'];

/**
 * What the optical monitor shows: all layers end to end or one alone, with boundaries, turning points (open
 * circles) and cuts (diamonds), and a playhead for a rehearsal.
 *
 * @element cw-monitor-trace
 * @property layers - `LayerTrace[]` in the order of deposition
 * @property previous - the same layers before the last edit, drawn as ghosts
 * @property only - index of the one layer that is shown; undefined for all
 * @property against - `thickness` or `time`
 * @property playhead - where the run is now, in the axis's unit (nm or min) from the first shown layer's start
 * @property cursor - the place read out
 * @property label - what the chart shows
 * @property fileName - name of saved files without ending
 * @property bare - without the row of tools
 * @fires cw-chart-cursor - the reader points at another place
 * @fires cw-chart-view - the reader has zoomed or moved
 * @cssproperty [--cw-chart-height=20rem]
 */
export class MonitorTraceElement extends LitElement {
  static override styles = [baseStyles, monitorTraceStyles];

  @property({ attribute: false }) layers: readonly LayerTrace[] = [];
  @property({ attribute: false }) previous: readonly LayerTrace[] = [];
  @property({ type: Number }) only: number | undefined;
  @property() against: TraceAxis = 'thickness';
  @property({ type: Number }) playhead: number | undefined;
  @property({ type: Number }) cursor: number | undefined;
  @property() label = 'Monitor signal';
  @property({ attribute: 'file-name' }) fileName = 'monitor';
  @property({ type: Boolean }) bare = false;

  @query('cw-line-chart') private readonly inner!: LineChartElement;
  private plan: TracePlan = tracePlan([], 'thickness');

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (!PLANNED.some((name) => changed.has(name))) return;
    const shown = (all: readonly LayerTrace[]) =>
      this.only === undefined ? all : all.slice(this.only, this.only + 1);
    this.plan = tracePlan(shown(this.layers), this.against, shown(this.previous));
  }

  override render() {
    return html`
      <cw-line-chart
        .series=${this.plan.series}
        .markers=${this.plan.markers}
        .xAxis=${this.plan.xAxis}
        .yAxis=${this.plan.yAxis}
        .playhead=${this.playhead}
        .cursor=${this.cursor}
        .label=${this.label}
        .fileName=${this.fileName}
        .bare=${this.bare}
      ></cw-line-chart>
      <p class="key"><span aria-hidden="true">○</span> turning point <span aria-hidden="true">◆</span> cut</p>
    `;
  }

  protected override async getUpdateComplete(): Promise<boolean> {
    const done = await super.getUpdateComplete();
    await this.inner.updateComplete;
    return done;
  }

  /** Where each shown layer begins on the axis. */
  get starts(): readonly number[] {
    return this.plan.starts;
  }

  /** The chart as SVG text in the colours of paper. */
  toSvg(): string {
    return this.inner.toSvg();
  }

  /** The shown data as comma-separated text, in per cent. */
  toCsv(): string {
    return this.inner.toCsv();
  }

  /** The chart as a PNG in the colours of paper. */
  toPng(): Promise<Blob> {
    return this.inner.toPng();
  }
}
