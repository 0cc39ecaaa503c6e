import { html, LitElement, type PropertyValues } from 'lit';
import { property, query } from 'lit/decorators.js';
import '../line-chart/cw-line-chart.ts';
import type { ChartAxis, LimitZone, LineSeries, ViewRange } from '../line-chart/line-chart-data.ts';
import type { LineChartElement } from '../line-chart/line-chart-element.ts';
import { baseStyles } from '../shared-styles.ts';
import {
  limitZone,
  percentAxis,
  percentSeries,
  type SpectrumCurve,
  type SpectrumLimit,
  WAVELENGTH_AXIS,
} from './spectrum-chart-data.ts';

/**
 * Spectra against their limits: several curves, ghosts of what was before, bands, hatched limits.
 *
 * @element cw-spectrum-chart
 * @property curves - `SpectrumCurve[]`, values as fractions
 * @property limits - `SpectrumLimit[]`; those of another quantity than the chart's are not drawn
 * @property quantity - `R`, `T` or `A`: what the axis says
 * @property log - logarithmic scale
 * @property maxPercent - top of the scale; undefined follows the data
 * @property view - the stretch of wavelengths shown, `{min, max}` in nm
 * @property cursor - wavelength read out, nm
 * @property label - what the chart shows
 * @property fileName - name of saved files without ending
 * @property bare - without the row of tools
 * @fires cw-chart-cursor - the reader points at another wavelength
 * @fires cw-chart-view - the reader has zoomed or moved
 * @cssproperty [--cw-chart-height=20rem]
 */
export class SpectrumChartElement extends LitElement {
  static override styles = [baseStyles];

  @property({ attribute: false }) curves: readonly SpectrumCurve[] = [];
  @property({ attribute: false }) limits: readonly SpectrumLimit[] = [];
  @property() quantity: 'R' | 'T' | 'A' = 'R';
  @property({ type: Boolean }) log = false;
  @property({ type: Number, attribute: 'max-percent' }) maxPercent: number | undefined;
  @property({ attribute: false }) view: ViewRange | undefined;
  @property({ type: Number }) cursor: number | undefined;
  @property() label = 'Spectrum';
  @property({ attribute: 'file-name' }) fileName = 'spectrum';
  @property({ type: Boolean }) bare = false;

  @query('cw-line-chart') private readonly inner!: LineChartElement;

  private series: readonly LineSeries[] = [];
  private zones: readonly LimitZone[] = [];
  private yAxis: ChartAxis = percentAxis('R', false, undefined);

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('curves') || changed.has('log'))
      this.series = this.curves.map((curve) => percentSeries(curve, this.log));
    if (changed.has('limits') || changed.has('quantity'))
      this.zones = this.limits.filter((limit) => limit.quantity === this.quantity).map(limitZone);
    if (changed.has('quantity') || changed.has('log') || changed.has('maxPercent'))
      this.yAxis = percentAxis(this.quantity, this.log, this.maxPercent);
  }

  override render() {
    return html`
      <cw-line-chart
        .series=${this.series}
        .zones=${this.zones}
        .xAxis=${WAVELENGTH_AXIS}
        .yAxis=${this.yAxis}
        .view=${this.view}
        .cursor=${this.cursor}
        .label=${this.label}
        .fileName=${this.fileName}
        .bare=${this.bare}
      ></cw-line-chart>
    `;
  }

  protected override async getUpdateComplete(): Promise<boolean> {
    const done = await super.getUpdateComplete();
    await this.inner.updateComplete;
    return done;
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
