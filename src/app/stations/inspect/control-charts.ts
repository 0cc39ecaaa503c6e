import { css, html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { counted, fixed, significant } from '../../../base/format.ts';
import '../../../elements/line-chart/cw-line-chart.ts';
import type { ChartAxis, ChartMarker, LineSeries } from '../../../elements/line-chart/line-chart-data.ts';
import { type ControlChart, controlChart, LEAST_RUNS, TRUSTED_RUNS } from '../../../inspect/control-chart.ts';
import { pooledTooling } from '../../../inspect/tooling-correction.ts';
import { type ToolingHistory, toolingHistories } from '../../../inspect/tooling-history.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { labelOf } from '../material-words.ts';

const RUN_AXIS: ChartAxis = { title: 'Run', unit: '' };

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

  override render() {
    const histories = toolingHistories(this.state.batch);
    return html`<section class="group" aria-label="Tooling from run to run">
      <h2>Tooling from run to run</h2>
      ${
        histories.length === 0
          ? html`<p class="empty">No run has a tooling yet. Carry the corrections of a run into the next one, or note what its fit found: each such run is a point of the control chart.</p>`
          : html`<p class="small soft">What each run's measurement asked for, per material and source. Limits follow from the moving ranges between neighbouring runs; a point beyond them, or a row of points that leans to one side, says that something has changed: look for the cause before correcting.</p>`
      }
      <div class="charts">${histories.map((history) => this.history(history))}</div>
    </section>`;
  }

  private history(history: ToolingHistory) {
    const { material, source, sensor, points } = history;
    const title = `${labelOf(material, this.state.batch)} from ${source}, ${sensor} tooling`;
    const chart = controlChart(
      points.map(({ tooling }) => tooling),
      points.map(({ run }) => `run ${run}`),
    );
    return html`<div class="group"><h3>${title}</h3>
      ${chart === undefined ? this.tooFew(points.length) : this.alarms(chart, points.length)}
      ${this.pooled(history)}
      <cw-line-chart
        .series=${individuals(history, chart)}
        .markers=${chart === undefined ? [] : alarmMarkers(history, chart)}
        .xAxis=${RUN_AXIS}
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
        .series=${movingRanges(history, chart)}
        .xAxis=${RUN_AXIS}
        .yAxis=${{ title: 'Moving range', unit: '', min: 0 }}
        .label=${`Control chart of moving ranges: ${title}`}
        .fileName=${`${this.state.batch.id}-${material}-${sensor}-range`}
        .digits=${4}
      ></cw-line-chart>`
      }
    </div>`;
  }

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

function runsOf({ points }: ToolingHistory): number[] {
  return points.map(({ run }) => run);
}

function individuals(history: ToolingHistory, chart: ControlChart | undefined): LineSeries[] {
  const x = runsOf(history);
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

function movingRanges(history: ToolingHistory, { meanRange, upperRange }: ControlChart): LineSeries[] {
  const x = runsOf(history).slice(1);
  const y = history.points.slice(1).map(({ tooling }, i) => Math.abs(tooling - history.points[i]!.tooling));
  return [
    { name: 'moving range', x, y, colour: 'curve-1' },
    level('mean range', x, meanRange, 'dashed'),
    level('upper limit', x, upperRange, 'dotted'),
  ];
}

function level(name: string, x: readonly number[], value: number, dash: 'dashed' | 'dotted'): LineSeries {
  return { name, x, y: x.map(() => value), dash, colour: dash === 'dashed' ? 'ink-soft' : 'missed' };
}

function alarmMarkers({ points }: ToolingHistory, { alarms }: ControlChart): ChartMarker[] {
  return [...new Set(alarms.map(({ point }) => point))].map((point) => ({
    kind: 'note',
    x: points[point]!.run,
    y: points[point]!.tooling,
    label: `run ${points[point]!.run}`,
  }));
}
