import { BATCH_FORMAT, BATCH_VERSION, type Batch } from './document.ts';
import { HOUSE_CHAMBER, HOUSE_FIXTURE, HOUSE_MONITOR, HOUSE_PROCESS } from './house-settings.ts';
import { suggestLayers } from './suggest-layers.ts';

/** A batch for a new order: a plane lens of the commonest crown, one broadband requirement, and a first stack for it. */
export function newBatch(id: string): Batch {
  return withFirstStack(emptyBatch(id));
}

/**
 * The batch with a first stack for its front, which takes up to a second to find; as it is where no closed form fits.
 * @throws InputError where its requirements contradict each other.
 */
export function withFirstStack(batch: Batch): Batch {
  const { front } = batch.surfaces;
  const layers = suggestLayers(batch, 'front', front) ?? front.layers;
  return { ...batch, surfaces: { ...batch.surfaces, front: { ...front, layers } } };
}

/** A new batch whose surfaces have no layers yet. */
export function emptyBatch(id: string): Batch {
  return structuredClone({
    format: BATCH_FORMAT,
    version: BATCH_VERSION,
    id,
    order: {
      title: 'New order',
      lot: '',
      quantity: 100,
      rejectReservePercent: 5,
      lens: { substrate: '517642', diameterMm: 25, clearApertureMm: 23, centreThicknessMm: 5 },
    },
    surfaces: {
      front: {
        incident: 1,
        requirements: [
          {
            quantity: 'R',
            statistic: 'mean',
            limit: 0.5,
            sense: 'below',
            bandNm: [430, 670],
            incidenceDeg: [0],
            polarization: 'mean',
            weight: 1,
          },
        ],
        layers: [],
      },
      back: 'same',
    },
    fixture: HOUSE_FIXTURE,
    chamber: HOUSE_CHAMBER,
    process: HOUSE_PROCESS,
    monitor: HOUSE_MONITOR,
    runs: [],
    materials: [],
  } satisfies Batch);
}
