import type { Batch, Layer, Side, Surface } from '../../../batch/document.ts';
import { freeLayerId, setBack, surfaceOf } from '../order/requirement-edits.ts';
import type { PlainLayer } from '../task-layers.ts';

/** What the rescue says of one layer: its film, and which planned layer (from 0) it was, -1 for a new one. */
export interface RescuedLayer extends PlainLayer {
  readonly planned: number;
}

/**
 * Puts the rescued layers into a draft of the batch, on one side alone: where the back is coated as the front, it first
 * becomes a coating of its own, so that the side that is not being rescued keeps its plan. A layer that was planned
 * keeps its name and so its way of being monitored.
 */
export function putRescued(draft: Batch, side: Side, layers: readonly RescuedLayer[]): void {
  if (draft.surfaces.back === 'same') setBack('own').recipe(draft);
  const surface = surfaceOf(draft, side);
  if (surface === undefined) return;
  const names = surface.layers.map(({ id }) => id);
  const back = surfaceOf(draft, 'back');
  const taken = new Set([...draft.surfaces.front.layers, ...(back?.layers ?? [])].map(({ id }) => id));
  surface.layers = layers.map(({ planned, ...layer }): Layer => {
    const id = names[planned] ?? freeLayerId(side === 'front' ? 'f' : 'b', 1, taken);
    return { id, ...layer, thicknessNm: Math.round(100 * layer.thicknessNm) / 100 };
  });
}

/** The surface that a side is coated with by the plan: the front's for a back that is coated as the front. */
export function coatedAs({ surfaces }: Batch, side: Side): Surface {
  return side === 'back' && typeof surfaces.back === 'object' ? surfaces.back : surfaces.front;
}
