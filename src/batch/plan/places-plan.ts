import { RAD_PER_DEG } from '../../base/constants.ts';
import { computeSpectrum } from '../../optics/spectrum.ts';
import { batchOfLot } from '../batch-of-lot.ts';
import type { Batch, Side } from '../document.ts';
import { aimFactor } from './aim.ts';
import {
  filmOf,
  lensPlaces,
  type PlacedPlan,
  placeFilms,
  placeRadiiMm,
  type SideFilms,
  worstEdge,
} from './place-films.ts';
import type { LoadPlan, Plan } from './plan-types.ts';
import { anglesOf } from './surface-plan.ts';
import { within } from './within.ts';

/** Whether what is coated on one place meets every requirement of every side. */
export interface PlaceVerdict {
  readonly centre: boolean;
  /** All around the edge of the clear aperture. */
  readonly edge: boolean;
}

export interface PlacesPlan {
  /** One verdict a place of the rack, in the order of the load's places. */
  readonly verdicts: readonly PlaceVerdict[];
  /** Lens places of a load that meet everything at centre and edge. */
  readonly goodPerLoad: number;
  readonly curves: readonly PlaceCurves[];
  /** The further lots on the carrier, each on its own racks; its lenses as its own sizes say. */
  readonly others: readonly LotVerdicts[];
}

/** How a further lot fares. */
export interface LotVerdicts {
  readonly verdicts: readonly PlaceVerdict[];
  /** Lens places of one of its racks that meet everything at centre and edge. */
  readonly goodPerRack: number;
}

/** Reflectance of one side on chosen places, at the first angle that is required. */
export interface PlaceCurves {
  readonly side: Side;
  readonly incidenceDeg: number;
  readonly wavelengthNm: Float64Array;
  readonly curves: readonly { readonly name: string; readonly R: Float64Array }[];
}

/**
 * What the spread over rack and lens does to the coating when every layer ends where it is planned: the verdict of every
 * place and the spectra of the outermost. The yield adds the errors of the run to the same places.
 */
export function planPlaces(document: Batch, plan: Plan): PlacesPlan {
  const sides = aimedSides(document, plan);
  const verdicts = verdictsOf(sides, plan.load.places.length);
  return {
    verdicts,
    goodPerLoad: goodPlaces(plan.load, verdicts) * plan.load.racks,
    curves: sides.map(({ side, aimedNm }) => curvesOf(document, plan, side, aimedNm)),
    others: (document.fixture.otherLots ?? []).map((other, index) =>
      within(`fixture.otherLots[${index}]`, () => verdictsOfLot(batchOfLot(document, other), plan, index)),
    ),
  };
}

/** A further lot's places, judged with its own lens in the order's place. */
function verdictsOfLot(document: Batch, plan: Plan, index: number): LotVerdicts {
  const load = { ...plan.load, places: plan.load.otherLots[index]!.places };
  const distributions = plan.distributions.map((one) => ({
    ...one,
    materials: one.materials.map((spread) => ({ ...spread, atPlaces: spread.atOtherPlaces[index]! })),
  }));
  const verdicts = verdictsOf(aimedSides(document, { load, distributions }), load.places.length);
  return { verdicts, goodPerRack: goodPlaces(load, verdicts) };
}

function goodPlaces(load: LoadPlan, verdicts: readonly PlaceVerdict[]): number {
  return lensPlaces(load).filter((place) => verdicts[place]!.centre && verdicts[place]!.edge).length;
}

/** A side's films with the thicknesses that the run aims at. */
interface AimedSide {
  readonly side: SideFilms;
  readonly aimedNm: Float64Array;
}

function aimedSides(document: Batch, plan: PlacedPlan): AimedSide[] {
  const aim = aimFactor(document);
  return placeFilms(document, plan).map((side) => ({
    side,
    aimedNm: side.thicknessNm.map((nm) => aim * nm),
  }));
}

function verdictsOf(sides: readonly AimedSide[], places: number): PlaceVerdict[] {
  return Array.from({ length: places }, (_, place): PlaceVerdict => {
    const meets = (films: (side: SideFilms) => readonly Float64Array[]) =>
      sides.every(({ side, aimedNm }) =>
        films(side).every((film) => side.judge.passes(filmOf(aimedNm, film))),
      );
    return { centre: meets(({ centre }) => [centre[place]!]), edge: meets(({ edges }) => edges[place]!) };
  });
}

function curvesOf(document: Batch, plan: Plan, side: SideFilms, aimedNm: Float64Array): PlaceCurves {
  const { wavelengthNm } = plan.surfaces.find((surface) => surface.side === side.side)!;
  const incidenceDeg = anglesOf(side.surface.requirements)[0]!;
  const onGrid = {
    wavelengthNm,
    incident: side.optical.incident(wavelengthNm),
    layers: side.optical.layers.map(({ index }) => index(wavelengthNm)),
    substrate: side.optical.substrate(wavelengthNm),
  };
  const radii = placeRadiiMm(plan.load);
  const byRadius = lensPlaces(plan.load).toSorted((first, second) => radii[first]! - radii[second]!);
  const inner = byRadius[0];
  const outer = byRadius.at(-1);
  if (inner === undefined || outer === undefined)
    return { side: side.side, incidenceDeg, wavelengthNm, curves: [] };
  const half = document.order.lens.clearApertureMm / 2;
  const R = (film: Float64Array) =>
    computeSpectrum(onGrid, filmOf(aimedNm, film), {
      incidenceRad: [incidenceDeg * RAD_PER_DEG],
    })[0]!.mean.R;
  return {
    side: side.side,
    incidenceDeg,
    wavelengthNm,
    curves: [
      { name: 'innermost place, centre', R: R(side.centre[inner]!) },
      { name: 'outermost place, centre', R: R(side.centre[outer]!) },
      { name: `innermost place, ${half} mm from the lens's centre`, R: R(worstEdge(side, inner)) },
      { name: `outermost place, ${half} mm from the lens's centre`, R: R(worstEdge(side, outer)) },
    ],
  };
}
