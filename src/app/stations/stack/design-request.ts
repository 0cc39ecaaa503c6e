import type { Batch, Side } from '../../../batch/document.ts';
import { bandOf } from '../../../batch/plan/surface-plan.ts';
import { type IndexSpec, resolveIndex } from '../../../materials/index-spec.ts';
import { surfaceOf } from '../order/requirement-edits.ts';

/** What is asked of the search. */
export interface DesignWish {
  readonly search: 'refine' | 'synthesize';
  /** Ids of the materials for new layers. */
  readonly pool: readonly string[];
  readonly maxLayers: number;
  readonly timeLimitS: number;
}

/** What the search answers, as far as the screen uses it. */
export interface DesignAnswer {
  readonly layers: readonly DesignLayer[];
  readonly alternatives: readonly { readonly layers: readonly DesignLayer[] }[];
  readonly starts: number;
  readonly warnings: readonly string[];
}

interface DesignLayer {
  readonly material: string;
  readonly thicknessNm: number;
}

/** Points of the table that stands for a material which the batch carries with it. */
const TABLE_POINTS = 161;

/** The request of the task `design` for one side of a batch; held layers stay as they are. */
export function designRequest(batch: Batch, side: Side, wish: DesignWish): Record<string, unknown> {
  const surface = surfaceOf(batch, side) ?? batch.surfaces.front;
  const used = surface.layers.map(({ material }) => material);
  const inPool = wish.search === 'refine' ? [...new Set(used)] : wish.pool;
  const index = (spec: IndexSpec) => portable(spec, batch, bandOf(surface.requirements));
  const start = surface.layers.map(({ material, thicknessNm, locked }) => ({
    material: inPool.includes(material) ? material : index(material),
    thicknessNm,
    ...(locked === true ? { fixed: true } : {}),
  }));
  return {
    search: wish.search,
    incident: index(surface.incident),
    substrate: index(batch.order.lens.substrate),
    pool: inPool.map((id) => (isOwn(id, batch) ? { id, index: index(id) } : id)),
    requirements: surface.requirements,
    maxLayers: wish.search === 'refine' ? Math.max(surface.layers.length, 1) : wish.maxLayers,
    timeLimitS: wish.timeLimitS,
    ...(wish.search === 'refine' ? { start } : {}),
  };
}

function isOwn(id: string, { materials }: Batch): boolean {
  return materials.some((record) => record.id === id);
}

/** The index as the worker can read it: of a material that only this batch has, a table over the band. */
function portable(spec: IndexSpec, batch: Batch, [from, to]: readonly [number, number]): IndexSpec {
  if (typeof spec !== 'string' || !isOwn(spec, batch)) return spec;
  const [start, end] = [0.95 * from, 1.05 * to];
  const wavelengthNm = Float64Array.from(
    { length: TABLE_POINTS },
    (_, point) => start + ((end - start) * point) / (TABLE_POINTS - 1),
  );
  const { n, k } = resolveIndex(spec, wavelengthNm, batch.materials);
  return { wavelengthNm: [...wavelengthNm], n: [...n], k: [...k] };
}
