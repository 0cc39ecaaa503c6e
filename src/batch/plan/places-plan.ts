import { RAD_PER_DEG } from '../../base/constants.ts';
import { ThicknessJudge } from '../../design/thickness-judge.ts';
import { computeSpectrum } from '../../optics/spectrum.ts';
import type { Batch, Side, Surface } from '../document.ts';
import { coatedSides } from '../sides.ts';
import { overLens } from './distribution-plan.ts';
import { IndexBook } from './index-of.ts';
import type { DistributionPlan, MaterialSpread, Plan } from './plan-types.ts';
import { anglesOf, coatedSurface } from './surface-plan.ts';

/** Seats between which the film over a lens is interpolated. */
const SEATS = 4;
/** Aims that are tried: to this many percent on both sides, first in coarse steps, then in fine ones. */
const AIM_REACH_PERCENT = 8;
const AIM_COARSE_PERCENT = 0.5;
const AIM_FINE_PERCENT = 0.1;
/** Films that differ by less than this part are judged as one while aims are tried. */
const SAME_PART = 5e-4;

/** Whether what is coated on one place meets every requirement of every side. */
export interface PlaceVerdict {
  readonly centre: boolean;
  /** At the edge of the clear aperture. */
  readonly edge: boolean;
}

export interface PlacesPlan {
  /** One verdict a place of the rack, in the order of the load's places. */
  readonly verdicts: readonly PlaceVerdict[];
  /** Lens places of a load that meet everything at centre and edge. */
  readonly goodPerLoad: number;
  readonly curves: readonly PlaceCurves[];
}

/** Reflectance of one side on chosen places, at the first angle that is required. */
export interface PlaceCurves {
  readonly side: Side;
  readonly incidenceDeg: number;
  readonly wavelengthNm: Float64Array;
  readonly curves: readonly { readonly name: string; readonly R: Float64Array }[];
}

/** What the spread over rack and lens does to the coating: the verdict of every place and the spectra of the outermost. */
export function planPlaces(document: Batch, plan: Plan): PlacesPlan {
  const sides = sidesOf(document, plan);
  const aim = 1 + (document.process.aimPercent ?? 0) / 100;
  const radii = radiiOf(plan);
  const verdicts = plan.load.places.map((_, place): PlaceVerdict => {
    const meets = (atEdge: boolean) =>
      sides.every((side) => side.judge.passes(filmOn(side, place, radii[place]!, atEdge, aim)));
    return { centre: meets(false), edge: meets(true) };
  });
  const perRack = verdicts.filter(
    ({ centre, edge }, place) => centre && edge && plan.load.places[place]!.use === 'lens',
  ).length;
  return {
    verdicts,
    goodPerLoad: perRack * plan.load.racks,
    curves: sides.map((side) => curvesOf(document, plan, side, radii, aim)),
  };
}

export interface BestAim {
  /** Thickness aim over the stack, percent. */
  readonly percent: number;
  readonly goodPerLoad: number;
  /** Good lenses for every aim tried, for a chart. */
  readonly percents: Float64Array;
  readonly good: Float64Array;
}

/**
 * The thickness aim with which most lenses of a load are good at centre and edge: of the aims that are best alike the
 * middle one of the widest row, which leaves most room on both sides.
 */
export function bestAim(document: Batch, plan: Plan): BestAim {
  const sides = sidesOf(document, plan);
  const radii = radiiOf(plan);
  const lensPlaces = [...plan.load.places.keys()].filter((place) => plan.load.places[place]!.use === 'lens');
  const known = new Map<string, boolean>();
  const passes = (side: SideFilm, index: number, thicknessNm: Float64Array): boolean => {
    const key = `${index}:${Array.from(thicknessNm, (nm) => Math.round(Math.log(nm) / SAME_PART)).join()}`;
    const answer = known.get(key) ?? side.judge.passes(thicknessNm);
    known.set(key, answer);
    return answer;
  };
  const goodAt = (percent: number) =>
    plan.load.racks *
    lensPlaces.filter((place) =>
      [false, true].every((atEdge) =>
        sides.every((side, index) =>
          passes(side, index, filmOn(side, place, radii[place]!, atEdge, 1 + percent / 100)),
        ),
      ),
    ).length;
  const tried = new Map<number, number>();
  const tryAim = (percent: number) => {
    const rounded = Number(percent.toFixed(2));
    if (!tried.has(rounded)) tried.set(rounded, goodAt(rounded));
  };
  const coarse = Math.round(AIM_REACH_PERCENT / AIM_COARSE_PERCENT);
  for (let step = -coarse; step <= coarse; step++) tryAim(step * AIM_COARSE_PERCENT);
  const most = Math.max(...tried.values());
  const ends = [...tried].filter(([, good]) => good === most).map(([percent]) => percent);
  for (const end of [Math.min(...ends), Math.max(...ends)])
    for (let percent = -AIM_COARSE_PERCENT; percent <= AIM_COARSE_PERCENT; percent += AIM_FINE_PERCENT)
      tryAim(end + percent);
  const inOrder = [...tried].sort(([first], [second]) => first - second);
  const best = widestRow(inOrder);
  return {
    percent: best,
    goodPerLoad: Math.max(...tried.values()),
    percents: Float64Array.from(inOrder, ([percent]) => percent),
    good: Float64Array.from(inOrder, ([, good]) => good),
  };
}

/** The middle of the widest row of neighbouring aims that are all best. */
function widestRow(inOrder: readonly (readonly [number, number])[]): number {
  const most = Math.max(...inOrder.map(([, good]) => good));
  let best: readonly [number, number] = [0, -1];
  let from: number | undefined;
  for (const [percent, good] of inOrder) {
    if (good !== most) {
      from = undefined;
      continue;
    }
    from ??= percent;
    if (percent - from > best[1] - best[0] || best[1] < best[0]) best = [from, percent];
  }
  return Number(((best[0] + best[1]) / 2).toFixed(1));
}

interface SideFilm {
  readonly side: Side;
  readonly surface: Surface;
  readonly optical: ReturnType<typeof coatedSurface>;
  readonly judge: ThicknessJudge;
  readonly spreads: readonly MaterialSpread[];
  readonly thicknessNm: Float64Array;
  /** For every layer, film at the edge over that at the centre of a lens, at evenly spaced seats. */
  readonly edges: readonly Float64Array[];
  readonly seatStepMm: number;
}

function sidesOf(document: Batch, plan: Plan): SideFilm[] {
  const book = new IndexBook(document.materials);
  const outermost = Math.max(1, ...radiiOf(plan));
  const seatStepMm = outermost / (SEATS - 1);
  return coatedSides(document).flatMap(({ side, surface }, index) => {
    const distribution: DistributionPlan | undefined = plan.distributions[index];
    if (distribution === undefined) return [];
    const optical = coatedSurface(document, surface, book);
    const edgeOf = new Map(
      distribution.materials.map(({ source }) => [
        source,
        Float64Array.from(
          { length: SEATS },
          (_, seat) => overLens(document, side, source, seat * seatStepMm).relative.at(-1) ?? 1,
        ),
      ]),
    );
    const spreads = surface.layers.map(
      ({ material }) => distribution.materials.find((spread) => spread.material === material)!,
    );
    return [
      {
        side,
        surface,
        optical,
        judge: new ThicknessJudge(optical, surface.requirements),
        spreads,
        thicknessNm: Float64Array.from(surface.layers, (layer) => layer.thicknessNm),
        edges: spreads.map(({ source }) => edgeOf.get(source)!),
        seatStepMm,
      },
    ];
  });
}

function radiiOf({ load }: Plan): number[] {
  return load.places.map(({ xMm, yMm }) => Math.hypot(xMm, yMm));
}

/** Thicknesses of all layers on one place, at the lens's centre or at the edge of its clear aperture. */
function filmOn(side: SideFilm, place: number, radiusMm: number, atEdge: boolean, aim: number): Float64Array {
  const at = radiusMm / side.seatStepMm;
  const below = Math.min(SEATS - 2, Math.floor(at));
  return side.thicknessNm.map((thicknessNm, layer) => {
    const film = aim * thicknessNm * side.spreads[layer]!.atPlaces[place]!;
    if (!atEdge) return film;
    const edges = side.edges[layer]!;
    return film * (edges[below]! + (at - below) * (edges[below + 1]! - edges[below]!));
  });
}

function curvesOf(
  document: Batch,
  plan: Plan,
  side: SideFilm,
  radii: readonly number[],
  aim: number,
): PlaceCurves {
  const { wavelengthNm } = plan.surfaces.find((surface) => surface.side === side.side)!;
  const incidenceDeg = anglesOf(side.surface.requirements)[0]!;
  const onGrid = {
    wavelengthNm,
    incident: side.optical.incident(wavelengthNm),
    layers: side.optical.layers.map(({ index }) => index(wavelengthNm)),
    substrate: side.optical.substrate(wavelengthNm),
  };
  const lensPlaces = [...radii.keys()].filter((place) => plan.load.places[place]!.use === 'lens');
  const byRadius = lensPlaces.toSorted((first, second) => radii[first]! - radii[second]!);
  const inner = byRadius[0];
  const outer = byRadius.at(-1);
  if (inner === undefined || outer === undefined)
    return { side: side.side, incidenceDeg, wavelengthNm, curves: [] };
  const half = document.order.lens.clearApertureMm / 2;
  const R = (place: number, atEdge: boolean) =>
    computeSpectrum(onGrid, filmOn(side, place, radii[place]!, atEdge, aim), {
      incidenceRad: [incidenceDeg * RAD_PER_DEG],
    })[0]!.mean.R;
  return {
    side: side.side,
    incidenceDeg,
    wavelengthNm,
    curves: [
      { name: `innermost place, centre`, R: R(inner, false) },
      { name: `outermost place, centre`, R: R(outer, false) },
      { name: `innermost place, ${half} mm from the lens's centre`, R: R(inner, true) },
      { name: `outermost place, ${half} mm from the lens's centre`, R: R(outer, true) },
    ],
  };
}
