import type { Batch, Layer, Side, Surface } from '../../../batch/document.ts';
import { bandOf } from '../../../batch/plan/surface-plan.ts';
import { type IndexSpec, resolveIndex } from '../../../materials/index-spec.ts';
import { type PlainLayer, taskLayers } from '../task-layers.ts';

/** What the reader asks of a search. */
export interface SearchWishes {
  /** Ids of the materials for new layers. */
  readonly pool: readonly string[];
  readonly maxLayers: number;
  readonly minThicknessNm: number;
  /** Thickest stack. */
  readonly maxTotalNm: number;
  readonly seed: number;
  /** With `robust` the search goes for the highest yield under the errors given. */
  readonly goal: 'lowest' | 'robust';
}

/** Manufacturing errors, one sigma each, and how often they are drawn. */
export interface ErrorWishes {
  readonly relativePercent: number;
  readonly absoluteNm: number;
  readonly indexPercent: number;
  readonly trials: number;
  readonly seed: number;
}

/** The request of the task "design" that searches for stacks on a side's glass. */
export function searchRequest(
  batch: Batch,
  surface: Surface,
  wishes: SearchWishes,
  { relativePercent, absoluteNm, indexPercent }: ErrorWishes,
): object {
  const { pool, ...limits } = wishes;
  return {
    ...placeOf(batch, surface),
    pool: poolOf(batch, surface, pool),
    requirements: surface.requirements,
    ...limits,
    ...(wishes.goal === 'robust' ? { errors: { relativePercent, absoluteNm, indexPercent } } : {}),
    maxMaterials: Math.min(pocketsOf(batch), 50),
    search: 'synthesize',
  };
}

/** Pockets of all sources: no more materials can stand in one run. */
export function pocketsOf({ chamber }: Batch): number {
  return chamber.sources.reduce((sum, { pockets }) => sum + pockets, 0);
}

/** The request of the task "design" that changes thicknesses only; layers that are held stay. */
export function refineRequest(batch: Batch, surface: Surface, minThicknessNm: number): object {
  const materials = [...new Set(surface.layers.map(({ material }) => material))];
  return {
    ...placeOf(batch, surface),
    pool: poolOf(batch, surface, materials),
    requirements: surface.requirements,
    maxLayers: Math.max(1, Math.min(surface.layers.length, 100)),
    minThicknessNm,
    search: 'refine',
    start: taskLayers(surface.layers).map((layer, index) => ({
      ...layer,
      fixed: surface.layers[index]!.locked ?? false,
      ...groupOf(surface.layers[index]!),
    })),
  };
}

function groupOf({ group }: Layer): { readonly group?: number } {
  return group === undefined ? {} : { group };
}

/** The request of the task "tolerance" for a stack on a side's glass. */
export function toleranceRequest(
  batch: Batch,
  surface: Surface,
  layers: readonly PlainLayer[],
  { trials, seed, ...errors }: ErrorWishes,
): object {
  const spec = specs(batch, surface);
  return {
    ...placeOf(batch, surface),
    layers: taskLayers(layers, spec),
    requirements: surface.requirements,
    errors,
    trials,
    seed,
  };
}

function placeOf(batch: Batch, surface: Surface) {
  const spec = specs(batch, surface);
  const { incident } = surface;
  return {
    incident: typeof incident === 'string' ? spec(incident) : incident,
    substrate: spec(batch.order.lens.substrate),
  };
}

function poolOf(batch: Batch, surface: Surface, ids: readonly string[]) {
  const spec = specs(batch, surface);
  return ids.map((id) => (isOwn(batch, id) ? { id, index: spec(id) } : id));
}

/** Points of the table that stands for a material of the batch's own, in and around the requirements' bands. */
const TABLE_POINTS = 401;

/** Library materials by their id; the batch's own, which a task can't know, as a table. */
function specs(batch: Batch, surface: Surface): (id: string) => IndexSpec {
  return (id) => {
    const record = batch.materials.find((own) => own.id === id);
    if (record === undefined) return id;
    const [from, to] = bandOf(surface.requirements);
    const low = Math.max(record.rangeNm[0], 0.8 * from);
    const high = Math.min(record.rangeNm[1], 1.25 * to);
    const wavelengthNm =
      low < high
        ? Float64Array.from(
            { length: TABLE_POINTS },
            (_, place) => low + ((high - low) * place) / (TABLE_POINTS - 1),
          )
        : Float64Array.from(record.rangeNm);
    const { n, k } = resolveIndex(id, wavelengthNm, batch.materials);
    return { wavelengthNm: [...wavelengthNm], n: [...n], k: [...k] };
  };
}

function isOwn({ materials }: Batch, id: string): boolean {
  return materials.some((own) => own.id === id);
}

/** The request of the task "offaxis": over angle, along the coated face, and in a cone of rays. */
export function offAxisRequest(batch: Batch, surface: Surface, side: Side, coneHalfAngleDeg: number): object {
  const { lens } = batch.order;
  const spec = specs(batch, surface);
  const radius = Math.abs((side === 'front' ? lens.frontRadiusMm : lens.backRadiusMm) ?? 0);
  const reach = lens.clearApertureMm / 2;
  const steepest = Math.max(...surface.requirements.flatMap(({ incidenceDeg }) => incidenceDeg), 0);
  return {
    ...placeOf(batch, surface),
    layers: taskLayers(surface.layers, spec),
    requirements: surface.requirements,
    incidenceDeg: ANGLES_DEG,
    ...(radius > reach
      ? {
          lens: {
            radiusOfCurvatureMm: radius,
            points: LENS_SHARES.map((share) => Math.round(1000 * share * reach) / 1000),
          },
        }
      : {}),
    ...(steepest + coneHalfAngleDeg < 90 ? { coneHalfAngleDeg } : {}),
  };
}

const ANGLES_DEG = [0, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60];
const LENS_SHARES = [0, 0.5, 0.7, 0.85, 1];
