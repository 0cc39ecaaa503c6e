import { cutPlans } from '../../monitor/run-setup.ts';
import { predictSignals } from '../../monitor/signal.ts';
import type { Batch } from '../document.ts';
import { processOf } from './film-facts.ts';
import type { IndexBook } from './index-of.ts';
import { crystalDropHz, layerSettings, monitoredLayers, witnessOf } from './monitored-layers.ts';
import type { CutPlan, LayerPlan } from './plan-types.ts';
import type { ScheduledLayer } from './run-plan.ts';
import { within } from './within.ts';

/** Points of a layer's trace on the screen. */
const TRACE_POINTS = 121;

/** The crystal's column of the cut table. */
export interface CrystalColumn {
  readonly thicknessNm: number;
  readonly dropHz: number;
  /** What is left of the crystal's budget after the layer. */
  readonly leftHz: number;
  /** Whether a fresh crystal is turned in before the layer. */
  readonly change: boolean;
}

/**
 * Frequency drop of every layer and where crystals are changed: before a layer that would overrun the budget.
 * A crystal that carries earlier films is taken as still clean for the drop itself (a part in a hundred).
 */
export function planCrystal(document: Batch, layers: readonly LayerPlan[]): CrystalColumn[] {
  const { crystals } = document.chamber;
  let usedHz = 0;
  return layers.map(({ material, thicknessNm }, index) => {
    const onCrystalNm = thicknessNm * processOf(document, material).crystalTooling;
    const dropHz = crystalDropHz(document, material, thicknessNm);
    const change = index > 0 && usedHz + dropHz > crystals.budgetHz;
    usedHz = change ? dropHz : usedHz + dropHz;
    return { thicknessNm: onCrystalNm, dropHz, leftHz: crystals.budgetHz - usedHz, change };
  });
}

/**
 * The cut table of one run: what the witness's signal does in every layer, and the crystal's column. Its notes are the doubts
 * of the very cut plans that virtual runs follow.
 */
export function planCuts(
  document: Batch,
  layers: readonly ScheduledLayer[],
  crystal: readonly CrystalColumn[],
  incident: Parameters<IndexBook['of']>[0],
  book: IndexBook,
): CutPlan[] {
  const monitored = monitoredLayers(document, layers, book);
  const witness = witnessOf(document, incident, book);
  const signals = within('monitor', () => predictSignals(witness, monitored, TRACE_POINTS));
  const plans = within('monitor', () => cutPlans(witness, monitored, document.monitor.noise));
  const withoutData = (wavelengthNm: number, seen: readonly (readonly [string, string])[]) => [
    ...new Set(
      seen
        .filter(([material]) => !book.of(material)(Float64Array.of(wavelengthNm)).inRange[0])
        .map(([, label]) => `${label} has no data at ${wavelengthNm} nm`),
    ),
  ];
  return layers.map((layer, index): CutPlan => {
    const signal = signals[index]!;
    const { wavelengthNm, rule, newWitness, signal: light } = layerSettings(document.monitor, layer.id);
    const column = crystal[index]!;
    return {
      id: layer.id,
      label: layer.label,
      thicknessNm: layer.thicknessNm,
      wavelengthNm,
      signal: light,
      rule,
      newWitness,
      startLevel: signal.startLevel,
      endLevel: signal.endLevel,
      turningPoints: signal.turningPoints,
      swingPercent: signal.swingPercent,
      trace: signal.trace,
      crystalThicknessNm: column.thicknessNm,
      crystalDropHz: column.dropHz,
      crystalLeftHz: column.leftHz,
      timeS: layer.thicknessNm / monitored[index]!.rateNmPerS,
      note: [
        ...(column.change ? ['fresh crystal before this layer'] : []),
        ...(column.leftHz < 0 ? ['this layer alone uses up a crystal'] : []),
        ...withoutData(wavelengthNm, [
          [document.monitor.witness.material, 'the witness'],
          ...layers.slice(plans.first[index]!, index + 1).map((one) => [one.material, one.label] as const),
        ]),
        ...plans.plans[index]!.doubts,
      ].join('; '),
    };
  });
}
