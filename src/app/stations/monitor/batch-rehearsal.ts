import type { Batch, Surface } from '../../../batch/document.ts';
import { aimedLayers } from '../../../batch/plan/aim.ts';
import { IndexBook } from '../../../batch/plan/index-of.ts';
import { crystalStock, monitoredLayers, witnessOf } from '../../../batch/plan/monitored-layers.ts';
import { planSurface } from '../../../batch/plan/surface-plan.ts';
import { type RunSetup, setUpRuns } from '../../../monitor/run-setup.ts';

/** The run of one side made ready to be played. @throws InputError where the monitor's settings have no answer. */
export function rehearsalSetup(batch: Batch, surface: Surface): RunSetup {
  const book = new IndexBook(batch.materials);
  return setUpRuns(
    witnessOf(batch, surface.incident, book),
    monitoredLayers(batch, aimedLayers(batch, surface.layers), book),
    batch.monitor.noise,
    crystalStock(batch, surface.layers),
  );
}

/** What the first layers' true thicknesses, the others as planned, make of the surface: spectrum and requirements. */
export function surfaceAsGrown(batch: Batch, surface: Surface, thicknessNm: readonly number[]) {
  return planSurface(
    batch,
    {
      surface: {
        ...surface,
        layers: aimedLayers(batch, surface.layers).map((layer, index) => ({
          ...layer,
          thicknessNm: thicknessNm[index] ?? layer.thicknessNm,
        })),
      },
    },
    new IndexBook(batch.materials),
  );
}
