import type { Batch, Layer, Side } from '../../../batch/document.ts';
import { IndexBook } from '../../../batch/plan/index-of.ts';
import type { SurfacePlan } from '../../../batch/plan/plan-types.ts';
import { planSurface } from '../../../batch/plan/surface-plan.ts';
import { fourLayerThinPair } from '../../../design/closed-forms/four-layer.ts';
import { innerIndexWanted, quarterHalfQuarter } from '../../../design/closed-forms/quarter-half-quarter.ts';
import { quarterWaveNm } from '../../../design/closed-forms/quarter-wave.ts';
import { twoLayerZeros } from '../../../design/closed-forms/two-layer-zero.ts';
import { resolveIndex } from '../../../materials/index-spec.ts';
import { surfaceOf } from '../order/requirement-edits.ts';

/** A stack to compare with others and to take or leave. */
export interface Candidate {
  readonly name: string;
  readonly layers: readonly Omit<Layer, 'id'>[];
  /** The side's plan with these layers. */
  readonly plan: SurfacePlan;
}

/** Layers in the order of deposition, not yet evaluated. */
interface Sketch {
  readonly name: string;
  readonly layers: readonly Omit<Layer, 'id'>[];
}

interface Film {
  readonly id: string;
  readonly n: number;
}

/** Shown at most. */
const MOST = 8;

/**
 * Stacks that closed forms give from the materials at hand, evaluated against the side's requirements, best first: the
 * single quarter wave, the exact two-layer zeros, quarter-half-quarter, and four layers with a thin pair.
 * `referenceNm` is where the quarter waves are counted.
 */
export function closedFormStacks(
  batch: Batch,
  side: Side,
  pool: readonly string[],
  referenceNm: number,
): Candidate[] {
  const at = (id: string) => resolveIndex(id, Float64Array.of(referenceNm), batch.materials).n[0]!;
  const films = pool.map((id): Film => ({ id, n: at(id) })).filter(({ n }) => n >= 1 && n <= 10);
  const surface = surfaceOf(batch, side) ?? batch.surfaces.front;
  const incident = resolveIndex(surface.incident, Float64Array.of(referenceNm), batch.materials).n[0]!;
  const substrate = at(batch.order.lens.substrate);
  const sketches = [
    ...singles(films, referenceNm),
    ...pairs(films, incident, substrate, referenceNm),
    ...triples(films, incident, substrate, referenceNm),
    ...fours(films, incident, substrate, referenceNm),
  ];
  const book = new IndexBook(batch.materials);
  const candidates = sketches.map(({ name, layers }): Candidate => {
    const withIds = layers.map((layer, index) => ({ id: `c${index + 1}`, ...layer }));
    const plan = {
      side,
      own: true,
      ...planSurface(batch, { surface: { ...surface, layers: withIds } }, book),
    };
    return { name, layers, plan };
  });
  return bestOfEach(candidates).slice(0, MOST);
}

/** How far the requirements are from being met, the worst of them; below zero: all are met. */
export function shortfall({ requirements }: SurfacePlan): number {
  if (requirements.length === 0) return 0;
  return Math.max(
    ...requirements.map(({ marginPercent, limitPercent }) => -marginPercent / Math.max(limitPercent, 0.01)),
  );
}

/** The two best of every kind, all by their shortfall. */
function bestOfEach(candidates: readonly Candidate[]): Candidate[] {
  const sorted = [...candidates].sort((a, b) => shortfall(a.plan) - shortfall(b.plan));
  const seen = new Map<string, number>();
  return sorted.filter(({ name }) => {
    const count = (seen.get(name) ?? 0) + 1;
    seen.set(name, count);
    return count <= 2;
  });
}

function singles(films: readonly Film[], atNm: number): Sketch[] {
  return films.map(({ id, n }) => ({
    name: 'Single quarter wave',
    layers: [{ material: id, thicknessNm: quarterWaveNm(n, atNm) }],
  }));
}

function pairs(films: readonly Film[], incident: number, substrate: number, atNm: number): Sketch[] {
  return films.flatMap((inner) =>
    films
      .filter((outer) => outer.n < inner.n)
      .flatMap((outer) =>
        twoLayerZeros({ incident, outer: outer.n, inner: inner.n, substrate }, atNm).map(
          ({ innerNm, outerNm }) => ({
            name: 'Two layers, zero at one wavelength',
            layers: [
              { material: inner.id, thicknessNm: innerNm },
              { material: outer.id, thicknessNm: outerNm },
            ],
          }),
        ),
      ),
  );
}

function triples(films: readonly Film[], incident: number, substrate: number, atNm: number): Sketch[] {
  const outer = least(films);
  if (outer === undefined) return [];
  const wanted = innerIndexWanted(outer.n, incident, substrate);
  const inners = [...films].sort((a, b) => Math.abs(a.n - wanted) - Math.abs(b.n - wanted)).slice(0, 2);
  return inners.flatMap((inner) =>
    films
      .filter((middle) => middle.n > inner.n)
      .map((middle) => ({
        name: 'Quarter, half, quarter',
        layers: together(
          [inner, middle, outer],
          quarterHalfQuarter({ inner: inner.n, middle: middle.n, outer: outer.n }, atNm),
        ),
      })),
  );
}

function fours(films: readonly Film[], incident: number, substrate: number, atNm: number): Sketch[] {
  const low = least(films);
  if (low === undefined) return [];
  return films
    .filter(({ n }) => n > low.n)
    .flatMap((high) =>
      fourLayerThinPair({ incident, low: low.n, high: high.n, substrate }, atNm)
        .slice(0, 1)
        .map((thickness) => ({
          name: 'Four layers with a thin pair',
          layers: together([high, low, high, low], thickness),
        })),
    );
}

function together(films: readonly Film[], thicknessNm: readonly number[]): Omit<Layer, 'id'>[] {
  return films.map(({ id }, index) => ({ material: id, thicknessNm: thicknessNm[index] ?? 0 }));
}

function least(films: readonly Film[]): Film | undefined {
  return films.reduce<Film | undefined>(
    (low, film) => (low === undefined || film.n < low.n ? film : low),
    undefined,
  );
}
