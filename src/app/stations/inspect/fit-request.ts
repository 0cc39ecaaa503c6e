import { InputError } from '../../../base/errors.ts';
import type { Batch, MeasuredSpectrum, Surface } from '../../../batch/document.ts';
import { aimedLayers } from '../../../batch/plan/aim.ts';
import { type IndexSpec, resolveIndex } from '../../../materials/index-spec.ts';
import { taskLayers } from '../task-layers.ts';

/** What is left free in the fit; nothing of it belongs to the batch. */
export interface FitWishes {
  readonly free: 'materials' | 'layers';
  readonly indexScale: boolean;
}

/**
 * The request of the task "fit" for a spectrum of one coated face. The batch's own materials, which a task cannot know,
 * go along as tables on the spectrum's wavelengths.
 * @throws InputError where the spectrum is an absorptance, which the fit does not take.
 */
export function fitRequest(
  batch: Batch,
  surface: Surface,
  { wavelengthNm, values, quantity, incidenceDeg }: MeasuredSpectrum,
  wishes: FitWishes,
): object {
  if (quantity === 'A')
    throw new InputError('quantity', 'an absorptance cannot be fitted; measure reflectance or transmittance');
  const grid = Float64Array.from(wavelengthNm);
  const spec = (id: string): IndexSpec => {
    if (!batch.materials.some((own) => own.id === id)) return id;
    const { n, k } = resolveIndex(id, grid, batch.materials);
    return { wavelengthNm: [...grid], n: [...n], k: [...k] };
  };
  const { incident } = surface;
  return {
    incident: typeof incident === 'string' ? spec(incident) : incident,
    substrate: spec(batch.order.lens.substrate),
    // The run was cut for the aimed film: only what differs from that is the fault of the tooling.
    layers: taskLayers(aimedLayers(batch, surface.layers), spec),
    measured: { wavelengthNm: [...wavelengthNm], values: [...values], quantity, incidenceDeg },
    ...wishes,
    compare: true,
  };
}
