import { ThicknessJudge } from '../../design/thickness-judge.ts';
import type { Batch, Side, Surface } from '../document.ts';
import { coatedSides } from '../sides.ts';
import { overLens } from './distribution-plan.ts';
import { IndexBook } from './index-of.ts';
import type { LoadPlan, Plan } from './plan-types.ts';
import { coatedSurface } from './surface-plan.ts';

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
  /** The same at the edge of the clear aperture. */
  readonly edge: readonly Float64Array[];
}

/** The films of all coated sides, front first. */
export function placeFilms(document: Batch, { load, distributions }: PlacedPlan): SideFilms[] {
  const book = new IndexBook(document.materials);
  const radii = placeRadiiMm(load);
  const seatStepMm = Math.max(1, ...radii) / (SEATS - 1);
  return coatedSides(document).flatMap(({ side, surface }, index) => {
    const materials = distributions[index]?.materials;
    if (materials === undefined) return [];
    const edgeOf = new Map(
      materials.map(({ source }) => [
        source,
        Float64Array.from(
          { length: SEATS },
          (_, seat) => overLens(document, side, source, seat * seatStepMm).relative.at(-1) ?? 1,
        ),
      ]),
    );
    const spreads = surface.layers.map(
      ({ material }) => materials.find((spread) => spread.material === material)!,
    );
    const centre = radii.map((_, place) => Float64Array.from(spreads, (spread) => spread.atPlaces[place]!));
    const edge = radii.map((radiusMm, place) => {
      const at = radiusMm / seatStepMm;
      const below = Math.min(SEATS - 2, Math.floor(at));
      return Float64Array.from(spreads, ({ source, atPlaces }) => {
        const edges = edgeOf.get(source)!;
        return atPlaces[place]! * (edges[below]! + (at - below) * (edges[below + 1]! - edges[below]!));
      });
    });
    const optical = coatedSurface(document, surface, book);
    const judge = new ThicknessJudge(optical, surface.requirements);
    const thicknessNm = Float64Array.from(surface.layers, (layer) => layer.thicknessNm);
    return [{ side, surface, optical, judge, thicknessNm, centre, edge }];
  });
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
