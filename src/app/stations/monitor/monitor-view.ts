import type { CutPlan, RunPlan } from '../../../batch/plan/plan-types.ts';
import type { ChartMarker, LineSeries } from '../../../elements/line-chart/line-chart-data.ts';
import type { ColourToken } from '../../../elements/tokens/token-names.ts';

const COLOURS: readonly ColourToken[] = ['curve-1', 'curve-2', 'curve-3', 'curve-4', 'curve-5', 'curve-6'];

/** The signal of the whole run over the thickness on the lens, layer after layer; that of before the last edit as a ghost. */
export function monitorSeries(run: RunPlan, before: RunPlan | undefined): LineSeries[] {
  const ghosts =
    before === undefined || before === run
      ? []
      : seriesOf(before).map((series) => ({ ...series, name: `${series.name}, before`, ghost: true }));
  return [...ghosts, ...seriesOf(run)];
}

function seriesOf({ cuts }: RunPlan): LineSeries[] {
  const starts = startsNm(cuts);
  return cuts.map((cut, index) => ({
    name: `${index + 1} ${cut.label}, ${cut.signal} at ${cut.wavelengthNm} nm`,
    x: Float64Array.from(cut.trace.thicknessNm, (thickness) => starts[index]! + thickness),
    y: Float64Array.from(cut.trace.level, (level) => 100 * level),
    colour: COLOURS[index % COLOURS.length]!,
  }));
}

/** Where layers end, where the signal turns and where it is cut. */
export function monitorMarkers({ cuts }: RunPlan): ChartMarker[] {
  const starts = startsNm(cuts);
  return cuts.flatMap((cut, index): ChartMarker[] => {
    const start = starts[index]!;
    return [
      { kind: 'boundary', x: start + cut.thicknessNm },
      ...cut.turningPoints.map(
        ({ thicknessNm, level }): ChartMarker => ({
          kind: 'turning',
          x: start + thicknessNm,
          y: 100 * level,
        }),
      ),
      { kind: 'cut', x: start + cut.thicknessNm, y: 100 * cut.endLevel, label: `${index + 1}` },
    ];
  });
}

function startsNm(cuts: readonly CutPlan[]): number[] {
  let sum = 0;
  return cuts.map(({ thicknessNm }) => {
    const start = sum;
    sum += thicknessNm;
    return start;
  });
}
