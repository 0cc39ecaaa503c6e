import { ThicknessJudge } from '../../design/thickness-judge.ts';
import type { Batch, Side, Surface } from '../document.ts';
import { coatedSides } from '../sides.ts';
import { filmAtEdge, type SeatOnRack, seatsOf } from './film-on-load.ts';
import { IndexBook } from './index-of.ts';
import { motionOf } from './load-motion.ts';
import type { LoadPlan, Plan } from './plan-types.ts';
import { coatedSurface } from './surface-plan.ts';
import { vapourOf } from './vapour-of.ts';

/** Seats between which the film over a lens is interpolated. */
const SEATS = 4;

/** What of a plan the films of its places follow from. */
export type PlacedPlan = Pick<Plan, 'load' | 'distributions'>;

/** One side's film on every place of the rack. */
export interface SideFilms {
  readonly side: Side;
  readonly surface: Surface;
  readonly optical: ReturnType<typeof coatedSurface>;
  readonly judge: ThicknessJudge;
  /** Of every layer, nm; the drawing's, without the aim. */
  readonly thicknessNm: Float64Array;
  /** For every place of the rack and every layer: film at the lens's centre over that on the mean lens place. */
  readonly centre: readonly Float64Array[];
  /** For every place: the same at points around the edge of the clear aperture. */
  readonly edges: readonly (readonly Float64Array[])[];
}

/** The films of all coated sides, front first. */
export function placeFilms(document: Batch, { load, distributions }: PlacedPlan): SideFilms[] {
  const book = new IndexBook(document.materials);
  return coatedSides(document).flatMap(({ side, surface }, index) => {
    const materials = distributions[index]?.materials;
    if (materials === undefined) return [];
    const spreads = surface.layers.map(
      ({ material }) => materials.find((spread) => spread.material === material)!,
    );
    const edgesOf = new Map(
      materials.map(({ material }) => [material, edgesAtPlaces(document, side, material, load)]),
    );
    const centre = load.places.map((_, place) =>
      Float64Array.from(spreads, (spread) => spread.atPlaces[place]!),
    );
    const directions = edgesOf.values().next().value?.[0]?.length ?? 0;
    const edges = load.places.map((_, place) =>
      Array.from({ length: directions }, (_way, at) =>
        Float64Array.from(
          spreads,
          ({ material, atPlaces }) => atPlaces[place]! * edgesOf.get(material)![place]![at]!,
        ),
      ),
    );
    const optical = coatedSurface(document, surface, book);
    const judge = new ThicknessJudge(optical, surface.requirements);
    const thicknessNm = Float64Array.from(surface.layers, (layer) => layer.thicknessNm);
    return [{ side, surface, optical, judge, thicknessNm, centre, edges }];
  });
}

/** For every place, the film around the edge of the clear aperture over that at the lens's centre. */
function edgesAtPlaces(
  document: Batch,
  side: Side,
  material: string,
  { places }: LoadPlan,
): (readonly number[])[] {
  const vapour = vapourOf(document, material);
  const around = (seat: SeatOnRack) => filmAtEdge(document, side, vapour, seat);
  const seats = seatsOf(document, places);
  if (motionOf(document).kind === 'fixed') return seats.map(around);
  const stepMm = Math.max(1, ...seats.map(({ radiusMm }) => radiusMm)) / (SEATS - 1);
  const known = Array.from({ length: SEATS }, (_, seat) => around({ radiusMm: seat * stepMm, deg: 0 }));
  return seats.map(({ radiusMm }) => {
    const at = radiusMm / stepMm;
    const below = Math.min(SEATS - 2, Math.floor(at));
    return known[below]!.map((inner, way) => {
      return inner + (at - below) * (known[below + 1]![way]! - inner);
    });
  });
}

/** The film around a place's edge that differs most from that at its centre, in any layer. */
export function worstEdge({ centre, edges }: SideFilms, place: number): Float64Array {
  const middle = centre[place]!;
  const off = (film: Float64Array) =>
    film.reduce((most, value, layer) => Math.max(most, Math.abs(value / middle[layer]! - 1)), 0);
  return edges[place]!.reduce((worst, film) => (off(film) > off(worst) ? film : worst), middle);
}

/** Distance of every place from the rack's axis, mm. */
export function placeRadiiMm({ places }: LoadPlan): number[] {
  return places.map(({ xMm, yMm }) => Math.hypot(xMm, yMm));
}

/** The numbers of the places that hold a lens. */
export function lensPlaces({ places }: LoadPlan): number[] {
  return [...places.keys()].filter((place) => places[place]!.use === 'lens');
}

/** Thicknesses on one place, nm: those of the mean place times the place's factors. */
export function filmOf(thicknessNm: Float64Array, factors: Float64Array): Float64Array {
  return thicknessNm.map((nm, layer) => nm * factors[layer]!);
}
