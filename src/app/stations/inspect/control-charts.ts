import { css, html, nothing, type PropertyValues } from 'lit';
import { customElement } from 'lit/decorators.js';
import { counted, fixed, significant } from '../../../base/format.ts';
import '../../../elements/line-chart/cw-line-chart.ts';
import type { ChartAxis, ChartMarker, LineSeries } from '../../../elements/line-chart/line-chart-data.ts';
import { type ControlChart, controlChart, LEAST_RUNS, TRUSTED_RUNS } from '../../../inspect/control-chart.ts';
import { pooledTooling } from '../../../inspect/tooling-correction.ts';
import {
  pointName,
  type ToolingHistory,
  type ToolingPoint,
  toolingHistories,
} from '../../../inspect/tooling-history.ts';
import { Follows } from '../../follows.ts';
import { routeHref } from '../../routes.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { labelOf } from '../material-words.ts';
import { localMoment } from './moment.ts';
import { type ChartScope, type ShopHistory, shopHistoryOf } from './shop-history.ts';

/** The history of each tooling factor as a control chart of individuals and moving ranges, alarms in words. */
@customElement('app-control-charts')
export class ControlCharts extends StationElement {
  static override styles = [
    stationStyles,
    css`
      .charts {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(26rem, 100%), 1fr));
        gap: var(--cw-space-5);
        align-items: start;
      }
    `,
  ];

  readonly follows = new Follows(this, () => this.shop);

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.shop.forget();
  }

  protected override updated(changed: PropertyValues<this>): void {
    super.updated(changed);
    void this.shop.load(this.state.batch.id);
  }

  private get shop(): ShopHistory {
    return shopHistoryOf(this.bench);
  }

  override render() {
    const { batch } = this.state;
    const all = this.shop.batches(batch);
    const isShop = this.shop.scope === 'chamber';
    const shown = isShop ? all : [batch];
    const histories = toolingHistories(shown);
    return html`<section class="group" aria-label="Tooling from run to run">
      <h2>Tooling from run to run</h2>
      <div class="field"><label for="scope">Runs on the charts</label><select id="scope" @change=${this.onScope}>
        <option value="chamber" ?selected=${isShop}>of all batches kept here for ${batch.chamber.name}</option>
        <option value="batch" ?selected=${!isShop}>of this batch only</option>
      </select></div>
      ${isShop ? html`<p class="small soft">${all.length === 1 ? `No other batch that is kept in this browser for ${batch.chamber.name} has noted a tooling.` : `${counted(all.length - 1, 'other batch', 'other batches')} kept in this browser ${all.length === 2 ? 'has' : 'have'} noted a tooling for ${batch.chamber.name}; runs stand in the order in which they were started. A tooling holds for one chamber and the places of its lenses: where a fixture or a sensor has moved between two lots, the step is no drift.`}</p>` : nothing}
      ${isShop && this.shop.missing !== '' ? html`<p class="said">${this.shop.missing}</p>` : nothing}
      ${
        histories.length === 0
          ? html`<p class="empty">No run has a tooling yet. Carry the corrections of a run into the next one, or note what its fit found: each such run is a point of the control chart.</p>`
          : html`<p class="small soft">What each run's measurement asked for, per material and source. Limits follow from the moving ranges between neighbouring runs; a point beyond them, or a row of points that leans to one side, says that something has changed: look for the cause before correcting.</p>`
      }
      <div class="charts">${histories.map((history) => this.history(charted(history, shown.length > 1)))}</div>
    </section>`;
  }

  private history(charted: Charted) {
    const { history, names, axis } = charted;
    const { material, source, sensor, points } = history;
    const title = `${labelOf(material, this.state.batch)} from ${source}, ${sensor} tooling`;
    const chart = controlChart(
      points.map(({ tooling }) => tooling),
      names,
    );
    return html`<div class="group"><h3>${title}</h3>
      ${chart === undefined ? this.tooFew(points.length) : this.alarms(chart, points.length)}
      ${this.pooled(history)}
      <cw-line-chart
        .series=${individuals(charted, chart)}
        .markers=${chart === undefined ? [] : alarmMarkers(charted, chart)}
        .xAxis=${axis}
        .yAxis=${{ title: 'Tooling', unit: '' }}
        .label=${`Control chart of individuals: ${title}`}
        .fileName=${`${this.state.batch.id}-${material}-${sensor}-tooling`}
        .digits=${5}
      ></cw-line-chart>
      ${
        chart === undefined
          ? nothing
          : html`<cw-line-chart
        style="--cw-chart-height: 11rem"
        .series=${movingRanges(charted, chart)}
        .xAxis=${axis}
        .yAxis=${{ title: 'Moving range', unit: '', min: 0 }}
        .label=${`Control chart of moving ranges: ${title}`}
        .fileName=${`${this.state.batch.id}-${material}-${sensor}-range`}
        .digits=${4}
      ></cw-line-chart>`
      }
      ${this.points(title, points)}
    </div>`;
  }

  /** Every point with the record that it comes from. */
  private points(title: string, points: readonly ToolingPoint[]) {
    return html`<details><summary>${counted(points.length, 'run')} with lot and date</summary>
      <div class="scroll" role="region" aria-label="${title}: runs" tabindex="0"><table>
        <thead><tr><th>Lot</th><th>Run</th><th>Started</th><th class="figure">Tooling</th><th class="figure">± one σ</th><th>Taken</th></tr></thead>
        <tbody>${points.map(
          ({ batchId, runId, lot, run, startedAt, tooling, sigma, carried }) =>
            html`<tr><td>${lot}</td><th scope="row"><a href=${routeHref({ page: 'station', batchId, station: 'inspect', run: runId })}>run ${run}</a></th><td>${localMoment(startedAt).slice(0, 10)}</td><td class="figure">${fixed(tooling, 4)}</td><td class="figure">${significant(sigma, 2)}</td><td>${carried ? 'by the next run' : 'noted only'}</td></tr>`,
        )}</tbody></table></div></details>`;
  }

  private readonly onScope = (event: Event): void => {
    this.shop.scope = (event.target as HTMLSelectElement).value as ChartScope;
    this.shop.changed();
  };

  private tooFew(count: number) {
    const missing = LEAST_RUNS - count;
    return html`<p class="small">${counted(count, 'run')} so far: limits are drawn from ${LEAST_RUNS} runs on, ${missing} more ${missing === 1 ? 'is' : 'are'} missing.</p>`;
  }

  private alarms({ centre, lower, upper, sigma, alarms }: ControlChart, count: number) {
    return html`<p class="small">Centre ${fixed(centre, 4)}, limits ${fixed(lower, 4)} to ${fixed(upper, 4)}; from run to run ${significant((100 * sigma) / centre, 2)} % (one σ).${count < TRUSTED_RUNS ? ` ${count} runs: limits from fewer than ${TRUSTED_RUNS} are rough.` : ''}</p>
      ${
        alarms.length === 0
          ? html`<p class="small">No alarm: the points scatter as they did before.</p>`
          : html`<ul class="plain">${alarms.map(({ sentence }) => html`<li class="said">Drift alarm: ${sentence}.</li>`)}</ul>`
      }`;
  }

  private pooled({ points }: ToolingHistory) {
    const certain = points.filter(({ sigma }) => sigma > 0);
    const pooled = pooledTooling(certain);
    if (pooled === undefined || certain.length < 2) return nothing;
    return html`<p class="small">All runs together, weighted by their certainty: ${fixed(pooled.tooling, 4)} ± ${significant(pooled.sigma, 2)}. Where there is no alarm, this serves the next run better than the last run alone.</p>`;
  }
}

/** A history with its places on the axis: the run's number within one batch, the order of the runs among several. */
interface Charted {
  readonly history: ToolingHistory;
  readonly x: readonly number[];
  readonly names: readonly string[];
  readonly axis: ChartAxis;
}

function charted(found: ToolingHistory, isJoint: boolean): Charted {
  const points = isJoint ? found.points : found.points.toSorted((a, b) => a.run - b.run);
  const history = { ...found, points };
  const x = points.map(({ run }, place) => (isJoint ? place + 1 : run));
  const names = points.map((point) => pointName(point, isJoint));
  const nameOf = (value: number) => names[x.indexOf(value)];
  return {
    ...{ history, x, names },
    axis: { title: isJoint ? 'Run, in the order of their start' : 'Run', unit: '', nameOf },
  };
}

function individuals({ history, x }: Charted, chart: ControlChart | undefined): LineSeries[] {
  const found = history.points.map(({ tooling }) => tooling);
  return [
    { name: 'tooling found', x, y: found, points: true, colour: 'ink' },
    { name: 'from run to run', x, y: found, colour: 'curve-1' },
    ...(chart === undefined
      ? []
      : [
          level('centre', x, chart.centre, 'dashed'),
          level('lower limit', x, chart.lower, 'dotted'),
          level('upper limit', x, chart.upper, 'dotted'),
        ]),
  ];
}

function movingRanges({ history, x }: Charted, { meanRange, upperRange }: ControlChart): LineSeries[] {
  const later = x.slice(1);
  const y = history.points.slice(1).map(({ tooling }, i) => Math.abs(tooling - history.points[i]!.tooling));
  return [
    { name: 'moving range', x: later, y, colour: 'curve-1' },
    level('mean range', later, meanRange, 'dashed'),
    level('upper limit', later, upperRange, 'dotted'),
  ];
}

function level(name: string, x: readonly number[], value: number, dash: 'dashed' | 'dotted'): LineSeries {
  return { name, x, y: x.map(() => value), dash, colour: dash === 'dashed' ? 'ink-soft' : 'missed' };
}

function alarmMarkers({ history, x, names }: Charted, { alarms }: ControlChart): ChartMarker[] {
  return [...new Set(alarms.map(({ point }) => point))].map((point) => ({
    kind: 'note',
    x: x[point]!,
    y: history.points[point]!.tooling,
    label: names[point]!,
  }));
}
