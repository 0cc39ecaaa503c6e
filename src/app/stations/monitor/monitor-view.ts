import { csvText } from '../../../base/csv.ts';
import type { CutPlan, RunPlan } from '../../../batch/plan/plan-types.ts';
import type { LayerTrace } from '../../../elements/monitor-trace/trace-series.ts';

/** The traces of a run's layers, in the order of deposition; times are those of the set rate. */
export function layerTraces({ cuts }: RunPlan): LayerTrace[] {
  return cuts.map((cut, index) => ({
    name: `${index + 1} ${cut.label}`,
    signal: cut.signal,
    wavelengthNm: cut.wavelengthNm,
    thicknessNm: cut.trace.thicknessNm,
    level: cut.trace.level,
    timeS: timesS(cut),
    cut: { thicknessNm: cut.thicknessNm, level: cut.endLevel },
    turningPoints: cut.turningPoints,
    newWitness: cut.newWitness || index === 0,
  }));
}

/** The cut table for spreadsheets; levels in percent of the full light. */
export function cutTableCsv({ cuts }: RunPlan): string {
  return csvText(
    [
      ...['layer', 'material', 'thickness nm', 'wavelength nm', 'signal', 'rule', 'fresh witness'],
      ...['start %', 'turning points', 'cut %', 'swing %'],
      ...['crystal nm', 'frequency drop Hz', 'crystal left Hz', 'time s', 'note'],
    ],
    cuts.map((cut, index) => [
      ...[index + 1, cut.label, cut.thicknessNm, cut.wavelengthNm, cut.signal, cut.rule, cut.newWitness],
      100 * cut.startLevel,
      cut.turningPoints
        .map(({ level, thicknessNm }) => `${(100 * level).toFixed(3)} % at ${thicknessNm.toFixed(2)} nm`)
        .join(', '),
      ...[100 * cut.endLevel, cut.swingPercent, cut.crystalThicknessNm, cut.crystalDropHz],
      ...[cut.crystalLeftHz, cut.timeS, cut.note],
    ]),
  );
}

function timesS({ trace, thicknessNm, timeS }: CutPlan): Float64Array {
  return trace.thicknessNm.map((nm) => (thicknessNm === 0 ? 0 : (nm / thicknessNm) * timeS));
}
