import type { CutLayer } from '../../monitor/run-setup.ts';
import type { Witness } from '../../monitor/witness.ts';
import type { Batch, LayerMonitor, MonitorSettings } from '../document.ts';
import { processOf } from './film-facts.ts';
import type { IndexBook } from './index-of.ts';

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
  };
}

/** The layers of a stack as the monitor sees them, with the rule that cuts each. */
export function monitoredLayers(
  document: Batch,
  layers: readonly { readonly id: string; readonly material: string; readonly thicknessNm: number }[],
  book: IndexBook,
): CutLayer[] {
  return layers.map(({ id, material, thicknessNm }) => {
    const process = processOf(document, material);
    const { wavelengthNm, signal, rule, newWitness } = layerSettings(document.monitor, id);
    return {
      material: book.of(material),
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
