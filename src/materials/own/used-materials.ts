import type { IndexSpec } from '../index-spec.ts';
import { findMaterial } from '../library.ts';
import type { MaterialRecord } from '../record.ts';

/**
 * The records of every material that the specs name, each once, in alphabetical order of the ids: what a
 * batch carries, so that it computes the same on another machine. Ids that nobody knows are left out.
 */
export function usedMaterials(
  specs: readonly IndexSpec[],
  own: readonly MaterialRecord[] = [],
): readonly MaterialRecord[] {
  const ids = new Set(specs.flatMap(idsOf));
  return [...ids]
    .sort()
    .map((id) => findMaterial(id, own))
    .filter((record) => record !== undefined);
}

function idsOf(spec: IndexSpec): string[] {
  if (typeof spec === 'string') return [spec];
  return typeof spec === 'object' && 'variantOf' in spec ? idsOf(spec.variantOf) : [];
}
