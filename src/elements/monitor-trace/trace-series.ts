import type { ChartAxis, ChartMarker, LineSeries } from '../line-chart/line-chart-data.ts';

/** What the monitor shows while one layer grows. Levels are fractions (0..1), thickness counts from 0. */
export interface LayerTrace {
  /** Such as "2 TiO₂". */
  readonly name: string;
  readonly signal: 'R' | 'T';
  readonly wavelengthNm?: number;
  readonly thicknessNm: ArrayLike<number>;
  readonly level: ArrayLike<number>;
  /** Time of each sample from the layer's own start, s; needed only to show the trace against time. */
  readonly timeS?: ArrayLike<number>;
  readonly cut?: { readonly thicknessNm: number; readonly level: number };
  readonly turningPoints?: readonly { readonly thicknessNm: number; readonly level: number }[];
  /** Readings of a run under way, in the same terms as the trace. */
  readonly readings?: { readonly thicknessNm: ArrayLike<number>; readonly level: ArrayLike<number> };
  /** A fresh witness is turned in before this layer: the line starts anew. */
  readonly newWitness?: boolean;
}

/** What the trace is drawn against. */
export type TraceAxis = 'thickness' | 'time';

/** All that the chart needs. */
export interface TracePlan {
  readonly series: readonly LineSeries[];
  readonly markers: readonly ChartMarker[];
  readonly xAxis: ChartAxis;
  readonly yAxis: ChartAxis;
  /** x at which each layer begins. */
  readonly starts: readonly number[];
}

const X_AXIS: Readonly<Record<TraceAxis, ChartAxis>> = {
  thickness: { title: 'Thickness on the lens', unit: 'nm' },
  time: { title: 'Deposition time', unit: 'min' },
};

/**
 * Lays layers' traces end to end, in per cent, with a boundary, the turning points and the cut of each.
 * `previous` is what they were before the last edit, drawn as ghosts.
 */
export function tracePlan(
  layers: readonly LayerTrace[],
  against: TraceAxis,
  previous: readonly LayerTrace[] = [],
): TracePlan {
  const starts: number[] = [];
  const markers: ChartMarker[] = [];
  const lines = { R: new Line(), T: new Line() };
  const read = new Line();
  let from = 0;
  for (const layer of layers) {
    starts.push(from);
    const place = (thicknessNm: number) => from + alongAxis(layer, against, thicknessNm);
    const line = lines[layer.signal];
    if (layer.newWitness || line.lastX !== from) line.breakAt(from);
    for (let i = 0; i < layer.thicknessNm.length; i += 1)
      line.add(from + sampleX(layer, against, i), 100 * layer.level[i]!);
    if (layer.readings) {
      read.breakAt(from);
      const { thicknessNm, level } = layer.readings;
      for (let i = 0; i < thicknessNm.length; i += 1) read.add(place(thicknessNm[i]!), 100 * level[i]!);
    }
    markers.push({ kind: 'boundary', x: from, label: layer.name });
    for (const turn of layer.turningPoints ?? [])
      markers.push({ kind: 'turning', x: place(turn.thicknessNm), y: 100 * turn.level });
    if (layer.cut) markers.push({ kind: 'cut', x: place(layer.cut.thicknessNm), y: 100 * layer.cut.level });
    const last = layer.thicknessNm.length - 1;
    const planned = last < 0 ? 0 : sampleX(layer, against, last);
    const cutAt = layer.cut ? alongAxis(layer, against, layer.cut.thicknessNm) : 0;
    from += Math.max(planned, cutAt);
  }
  // The first series is drawn on top: readings lie over what was predicted.
  const series: LineSeries[] = [
    read.series('Readings', 'curve-2'),
    lines.R.series('Reflected signal', 'curve-1'),
    lines.T.series('Transmitted signal', 'curve-3'),
  ].filter((item) => item.x.length > 0);
  if (previous.length > 0)
    for (const { name, x, y } of tracePlan(previous, against).series)
      series.push({ name, x, y, ghost: true });
  return { series, markers, xAxis: X_AXIS[against], yAxis: { title: 'Signal', unit: '%' }, starts };
}

class Line {
  private readonly x: number[] = [];
  private readonly y: number[] = [];

  get lastX(): number | undefined {
    return this.x.at(-1);
  }

  add(x: number, y: number): void {
    this.x.push(x);
    this.y.push(y);
  }

  /** Lifts the pen where the line has begun already. */
  breakAt(x: number): void {
    if (this.x.length > 0) this.add(x, Number.NaN);
  }

  series(name: string, colour: 'curve-1' | 'curve-2' | 'curve-3'): LineSeries {
    return { name, x: this.x, y: this.y, colour };
  }
}

/** A sample's distance from its layer's start, nm or min. */
function sampleX(layer: LayerTrace, against: TraceAxis, i: number): number {
  return against === 'thickness' ? layer.thicknessNm[i]! : (layer.timeS?.[i] ?? Number.NaN) / 60;
}

/** A thickness's distance from its layer's start, nm or min; between samples linear, beyond them by the nearest pair. */
function alongAxis(layer: LayerTrace, against: TraceAxis, thicknessNm: number): number {
  const { thicknessNm: x, timeS } = layer;
  if (against === 'thickness' || timeS === undefined || x.length < 2) return thicknessNm;
  let right = 1;
  while (right < x.length - 1 && x[right]! < thicknessNm) right += 1;
  const span = x[right]! - x[right - 1]!;
  const part = span === 0 ? 0 : (thicknessNm - x[right - 1]!) / span;
  return (timeS[right - 1]! + part * (timeS[right]! - timeS[right - 1]!)) / 60;
}
