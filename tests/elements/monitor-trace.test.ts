import { beforeEach, describe, expect, it } from 'vitest';
import '../../src/elements/monitor-trace/cw-monitor-trace.ts';
import type { LineChartElement } from '../../src/elements/line-chart/line-chart-element.ts';
import type { MonitorTraceElement } from '../../src/elements/monitor-trace/monitor-trace-element.ts';
import { type LayerTrace, tracePlan } from '../../src/elements/monitor-trace/trace-series.ts';
import { drawn, expectAccessible, stage, within } from './support/stage.ts';

const layers: readonly LayerTrace[] = [
  {
    name: '1 Al₂O₃',
    signal: 'R',
    thicknessNm: [0, 40, 80],
    level: [0.042, 0.07, 0.05],
    timeS: [0, 60, 180],
    turningPoints: [{ thicknessNm: 40, level: 0.07 }],
    cut: { thicknessNm: 80, level: 0.05 },
  },
  {
    name: '2 MgF₂',
    signal: 'R',
    thicknessNm: [0, 90],
    level: [0.05, 0.01],
    timeS: [0, 90],
    cut: { thicknessNm: 90, level: 0.01 },
  },
];

describe('a monitor trace', () => {
  it('runs on from layer to layer along the thickness, in per cent', () => {
    const { series, markers, starts } = tracePlan(layers, 'thickness');
    expect(starts).toEqual([0, 80]);
    expect(series.length).toBe(1);
    expect(series[0]!.x).toEqual([0, 40, 80, 80, 170]);
    expect(series[0]!.y).toEqual([4.2, 7.000000000000001, 5, 5, 1]);
    expect(markers.map(({ kind, x }) => `${kind} ${x}`)).toEqual([
      'boundary 0',
      'turning 40',
      'cut 80',
      'boundary 80',
      'cut 170',
    ]);
  });

  it('runs along the time where times are given', () => {
    const { series, markers, xAxis } = tracePlan(layers, 'time');
    expect(xAxis.unit).toBe('min');
    expect(series[0]!.x).toEqual([0, 1, 3, 3, 4.5]);
    expect(markers.filter(({ kind }) => kind === 'cut').map(({ x }) => x)).toEqual([3, 4.5]);
  });

  it('lifts the pen for a new witness and tells reflected from transmitted', () => {
    const anew = tracePlan([layers[0]!, { ...layers[1]!, newWitness: true }], 'thickness');
    expect(anew.series[0]!.y[3]).toBeNaN();
    const both = tracePlan([layers[0]!, { ...layers[1]!, signal: 'T' }], 'thickness');
    expect(both.series.map((item) => item.name)).toEqual(['Reflected signal', 'Transmitted signal']);
  });

  it('has room for a cut beyond the planned trace, and for readings', () => {
    const late = {
      ...layers[0]!,
      cut: { thicknessNm: 100, level: 0.03 },
      readings: { thicknessNm: [0, 10], level: [0.04, 0.05] },
    };
    const plan = tracePlan([late, layers[1]!], 'thickness');
    expect(plan.starts[1]).toBe(100);
    expect(plan.series.find((item) => item.name === 'Readings')?.x).toEqual([0, 10]);
  });

  it('shows what it was before the last edit as a ghost', () => {
    const { series } = tracePlan(layers, 'thickness', layers.slice(0, 1));
    expect(series.map((item) => [item.name, item.ghost ?? false])).toEqual([
      ['Reflected signal', false],
      ['Reflected signal', true],
    ]);
  });

  it('is empty without layers', () => {
    expect(tracePlan([], 'time').series).toEqual([]);
  });
});

describe('cw-monitor-trace', () => {
  let trace: MonitorTraceElement;
  const chart = () => within<LineChartElement>(trace, 'cw-line-chart');

  beforeEach(async () => {
    trace = await stage('cw-monitor-trace', { layers, playhead: 100 });
  });

  it('is accessible in every theme', async () => {
    await expectAccessible(trace);
  });

  it('moves its playhead without drawing the chart again', async () => {
    const line = within(chart(), '.playhead');
    const before = line.style.left;
    expect(line.hidden).toBe(false);
    trace.playhead = 140;
    await drawn(trace);
    expect(Number.parseFloat(line.style.left)).toBeGreaterThan(Number.parseFloat(before));
    trace.playhead = undefined;
    await drawn(trace);
    expect(line.hidden).toBe(true);
  });

  it('shows one layer alone', async () => {
    trace.only = 1;
    await drawn(trace);
    expect(trace.toCsv().split('\r\n').slice(1, 3)).toEqual(['0,5', '90,1']);
    expect(trace.toSvg()).toContain('2 MgF₂');
  });
});
