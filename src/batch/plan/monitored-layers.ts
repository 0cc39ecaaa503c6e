import { RAD_PER_DEG } from '../../base/constants.ts';
import { loadCrystal } from '../../chamber/crystal.ts';
import { FINER_FOR_GROWTH, layerProfile } from '../../materials/grading.ts';
import type { CrystalStock } from '../../monitor/crystal-stock.ts';
import type { CutLayer } from '../../monitor/run-setup.ts';
import type { Witness } from '../../monitor/witness.ts';
import type { Batch, Layer, LayerMonitor, MonitorSettings } from '../document.ts';
import { filmFacts } from './film-facts.ts';
import type { IndexBook } from './index-of.ts';
import { runProcessOf } from './run-process.ts';
import { within } from './within.ts';

/** A layer's way of being monitored, the batch's general settings filled in. */
export type FilledMonitor = Required<LayerMonitor>;

/** The settings of one layer, where it has own ones, over those of the whole batch. */
export function layerSettings(
  { wavelengthNm, signal, rule, layers }: MonitorSettings,
  id: string,
): FilledMonitor {
  return { wavelengthNm, signal, rule, newWitness: false, ...layers[id] };
}

/** The witness as the monitor sees it, under the medium that the coated surface looks into. */
export function witnessOf(
  { monitor }: Batch,
  incident: Parameters<IndexBook['of']>[0],
  book: IndexBook,
): Witness {
  return {
    incident: book.of(incident),
    substrate: book.of(monitor.witness.material),
    thicknessMm: monitor.witness.thicknessMm,
    backSurface: monitor.witness.backSurface,
    incidenceRad: monitor.incidenceDeg * RAD_PER_DEG,
  };
}

/**
 * The crystals of a run as the batch's holder has them, with what each nanometre on the lens takes; undefined without a
 * holder. The fall is that of a clean crystal, a part in a hundred off on a loaded one.
 */
export function crystalStock(
  document: Batch,
  layers: readonly { readonly material: string; readonly thicknessNm: number }[],
): CrystalStock | undefined {
  const { budgetHz, count } = document.chamber.crystals;
  if (count === 0) return undefined;
  return {
    ...{ budgetHz, count },
    fallHzPerNm: layers.map(({ material, thicknessNm }) =>
      thicknessNm === 0 ? 0 : crystalDropHz(document, material, thicknessNm) / thicknessNm,
    ),
  };
}

/** By how much a clean crystal falls, Hz, while the lens gets `thicknessNm`. @throws InputError beyond what it can carry. */
export function crystalDropHz(document: Batch, material: string, thicknessNm: number): number {
  const { frequencyHz } = document.chamber.crystals;
  const { densityGPerCm3, zRatio } = filmFacts(document, material);
  const onCrystalNm = thicknessNm * runProcessOf(document, material).crystalTooling;
  return within(`process.materials.${material}`, () => {
    const film = { frequencyHz, densityGPerCm3, zRatio };
    return frequencyHz - loadCrystal(film, onCrystalNm).loadedFrequencyHz;
  });
}

/** The layers of a stack as the monitor sees them, with the rule that cuts each. */
export function monitoredLayers(
  document: Batch,
  layers: readonly Pick<Layer, 'id' | 'material' | 'thicknessNm' | 'grading'>[],
  book: IndexBook,
): CutLayer[] {
  return layers.map(({ id, material, thicknessNm, grading }) => {
    const process = runProcessOf(document, material);
    const { wavelengthNm, signal, rule, newWitness } = layerSettings(document.monitor, id);
    const index = book.of(material);
    const profile = layerProfile(
      index,
      grading,
      thicknessNm,
      wavelengthNm,
      `layer "${id}"`,
      FINER_FOR_GROWTH,
    );
    return {
      material: index,
      ...(profile && { profile }),
      thicknessNm,
      wavelengthNm,
      signal,
      rule,
      newWitness,
      bandwidthNm: document.monitor.bandwidthNm,
      tooling: process.witnessTooling,
      rateNmPerS: process.rateNmPerS / process.crystalTooling,
    };
  });
}
