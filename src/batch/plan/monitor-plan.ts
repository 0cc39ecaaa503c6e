import { atPath, InputError } from '../../base/errors.ts';
import { planCrystals } from '../../chamber/crystal-life.ts';
import { cutPlans } from '../../monitor/run-setup.ts';
import { predictSignals } from '../../monitor/signal.ts';
import type { Batch } from '../document.ts';
import { filmFacts } from './film-facts.ts';
import type { IndexBook } from './index-of.ts';
import { layerSettings, monitoredLayers, witnessOf } from './monitored-layers.ts';
import type { CutPlan, LayerPlan } from './plan-types.ts';
import type { ScheduledLayer } from './run-plan.ts';
import { runProcessOf } from './run-process.ts';
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
 * Frequency drop of every layer and where crystals are changed: before a layer that would overrun the budget (`planCrystals`).
 * A run begins with a fresh crystal. `leftHz` is below 0 where even a fresh crystal does not last for the layer.
 * @throws InputError where no crystal could follow a layer.
 */
export function planCrystal(document: Batch, layers: readonly LayerPlan[]): CrystalColumn[] {
  const { frequencyHz, budgetHz } = document.chamber.crystals;
  const films = layers.map(({ material, thicknessNm }) => {
    const { densityGPerCm3, zRatio } = filmFacts(document, material);
    const { crystalTooling } = runProcessOf(document, material);
    return { thicknessNm, densityGPerCm3, zRatio, tooling: 1 / crystalTooling };
  });
  const steps = withinCrystals(() => planCrystals(films, { frequencyHz, budgetHz }));
  return steps.map(({ startHz, endHz, changeBefore }, index) => ({
    thicknessNm: films[index]!.thicknessNm / films[index]!.tooling,
    dropHz: endHz - startHz,
    leftHz: budgetHz - endHz,
    change: changeBefore,
  }));
}

/** The crystal's own settings are the chamber's; a layer that is too much for it is told by its number. */
function withinCrystals<Result>(compute: () => Result): Result {
  try {
    return compute();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const layer = /^layers\[(\d+)\]/.exec(error.path)?.[1];
    if (layer === undefined) throw atPath('chamber.crystals', error);
    throw new InputError('chamber.crystals.frequencyHz', `layer ${Number(layer) + 1}: ${error.reason}`);
  }
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
      freshCrystal: column.change,
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
