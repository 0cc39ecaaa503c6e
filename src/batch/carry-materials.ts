import type { IndexSpec } from '../materials/index-spec.ts';
import { findMaterial } from '../materials/library.ts';
import type { Batch } from './document.ts';
import { coatedSides } from './sides.ts';

/**
 * The batch with every material that it uses carried inside, so that it computes the same on a machine whose
 * library differs. What it carried already stays, used or not: somebody put it there.
 */
export function carryMaterials(batch: Batch): Batch {
  const carried = new Set(batch.materials.map(({ id }) => id));
  const missing = usedMaterials(batch).filter((id) => !carried.has(id));
  const found = missing.flatMap((id) => findMaterial(id) ?? []);
  return found.length === 0 ? batch : { ...batch, materials: [...batch.materials, ...found] };
}

/** The ids of all materials that glass, layers, media around them, witness and logged runs name, each once. */
export function usedMaterials(batch: Batch): string[] {
  const ids = new Set([batch.order.lens.substrate, batch.monitor.witness.material]);
  for (const { surface } of coatedSides(batch)) {
    for (const { material } of surface.layers) ids.add(material);
    for (const id of idsIn(surface.incident)) ids.add(id);
  }
  for (const { planned } of batch.runs) for (const { material } of planned?.layers ?? []) ids.add(material);
  return [...ids];
}

function idsIn(spec: IndexSpec): string[] {
  if (typeof spec === 'string') return [spec];
  return typeof spec === 'object' && 'variantOf' in spec ? idsIn(spec.variantOf) : [];
}
