import type { Batch } from '../../../batch/document.ts';
import { coatedSides } from '../../../batch/sides.ts';
import type { IndexSpec } from '../../../materials/index-spec.ts';
import { findMaterial } from '../../../materials/library.ts';
import type { MaterialRecord } from '../../../materials/record.ts';
import type { BatchChange } from '../../bench.ts';

/** Puts a material into the batch, in place of the one of `replaced` (its old id) or of its own id. */
export function putMaterial(record: MaterialRecord, replaced: string = record.id): BatchChange {
  return {
    name: ({ materials }) =>
      materials.some(({ id }) => id === replaced)
        ? `Material changed: ${record.name}`
        : `Material put into the batch: ${record.name}`,
    recipe: (draft) => {
      const index = draft.materials.findIndex(({ id }) => id === replaced);
      if (index < 0) draft.materials.push(record);
      else draft.materials[index] = record;
    },
  };
}

/** Takes a material out of what the batch carries. */
export function removeMaterial({ id, name }: Pick<MaterialRecord, 'id' | 'name'>): BatchChange {
  return {
    name: `Material taken out: ${name}`,
    recipe: (draft) => {
      draft.materials = draft.materials.filter((record) => record.id !== id);
    },
  };
}

/**
 * Where a batch uses a material, in words: "the lens", "layer 2 of the front". Empty where it does not, so that it may
 * be taken out.
 */
export function placesOf(batch: Batch, id: string): readonly string[] {
  const places: string[] = [];
  if (batch.order.lens.substrate === id) places.push('the lens');
  if (batch.monitor.witness.material === id) places.push('the witness');
  for (const { side, surface, own } of coatedSides(batch)) {
    if (!own) continue;
    if (mentions(surface.incident, id)) places.push(`the medium in front of the ${side}`);
    for (const [index, layer] of surface.layers.entries())
      if (layer.material === id) places.push(`layer ${index + 1} of the ${side}`);
  }
  return places;
}

function mentions(spec: IndexSpec, id: string): boolean {
  if (typeof spec === 'string') return spec === id;
  return typeof spec === 'object' && 'variantOf' in spec && mentions(spec.variantOf, id);
}

/** Whether a batch would miss a material: it uses it, and the library has none of that id. */
export function isMissed(batch: Batch, id: string): boolean {
  return findMaterial(id) === undefined && placesOf(batch, id).length > 0;
}

/** An id made of a name, free in the batch and in the library: lower case letters, digits and hyphens. */
export function freeMaterialId(name: string, { materials }: Pick<Batch, 'materials'>): string {
  const stem =
    name
      .toLowerCase()
      .normalize('NFKD')
      .replace(/[^a-z0-9]+/g, '-')
      .slice(0, 50)
      .replace(/^-+|-+$/g, '') || 'own';
  for (let number = 1; ; number += 1) {
    const id = number === 1 ? stem : `${stem}-${number}`;
    if (findMaterial(id, materials) === undefined) return id;
  }
}
