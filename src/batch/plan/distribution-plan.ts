import { InputError, joinPath } from '../../base/errors.ts';
import { remember } from '../../base/remember.ts';
import { type Deposit, type DepositRequest, depositOn } from '../../chamber/deposit.ts';
import { flatSeat, hung } from '../../chamber/element.ts';
import type { PlanetaryMotion } from '../../chamber/motion.ts';
import { isShaded, shieldShape } from '../../chamber/shield.ts';
import { toolingFactor } from '../../chamber/tooling.ts';
import type { VapourSource } from '../../chamber/vapour-source.ts';
import type { Batch, BatchShield, Side } from '../document.ts';
import { convexRadiusMm } from '../sides.ts';
import { processOf } from './film-facts.ts';
import { lipBefore, planHolder } from './holder-plan.ts';
import type {
  DistributionPlan,
  LayerPlan,
  LoadPlan,
  MaterialSpread,
  RadialCourse,
  ShadePlan,
} from './plan-types.ts';
import { plainShields, shieldsOf } from './shields-of.ts';

/** Points of the course over the rack. */
const RACK_POINTS = 25;
/** Points of the course over the lens. */
const LENS_POINTS = 7;
/** Places whose distances from the rack's axis round to the same thousandth of a mm get the same film. */
const PLACE_DECIMALS = 3;

/** A face of this radius is plane. */
const PLANE_MM = 1e7;

/** Most edits leave the geometry alone; several materials of one source share it. */
const deposit = remember<DepositRequest, Deposit>(depositOn, 60);

/** How the racks of the batch move. */
export function motionOf({ fixture }: Batch): PlanetaryMotion {
  return {
    kind: 'planetary',
    carrierRadiusMm: fixture.carrierRadiusMm,
    heightMm: fixture.heightMm,
    tiltDeg: fixture.tiltDeg,
    ...(fixture.gearRatio === undefined ? {} : { gearRatio: fixture.gearRatio }),
  };
}

/**
 * How the film of every material spreads over the rack and over the curved lens, from where its source stands and how
 * the planets move. The thickness on the mean lens place is the one that the stack asks for.
 * @throws InputError where the geometry has no answer, its path within the batch.
 */
export function planDistribution(
  document: Batch,
  side: Side,
  layers: readonly LayerPlan[],
  load: LoadPlan,
): DistributionPlan {
  const seen = new Map(layers.map((layer) => [layer.material, layer.label]));
  const materials = [...seen].map(([material, label]) =>
    withinFixture(() => spreadOf(document, side, material, label, load)),
  );
  const edges = materials.map(({ lens }) => 100 * (lens.relative.at(-1)! - 1));
  return {
    side,
    materials,
    deviationPercent: Math.max(0, ...materials.map(({ deviationPercent }) => deviationPercent)),
    edgePercent: edges.reduce((worst, edge) => (Math.abs(edge) > Math.abs(worst) ? edge : worst), 0),
  };
}

/** Where on the rack a point dips too low is told by the sentence; what to change is the racks' height. */
function withinFixture<Result>(compute: () => Result): Result {
  try {
    return compute();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const isPoint = /^(points|lens)/.test(error.path);
    throw new InputError(isPoint ? 'fixture.heightMm' : joinPath('fixture', error.path), error.reason);
  }
}

function spreadOf(
  document: Batch,
  side: Side,
  material: string,
  label: string,
  load: LoadPlan,
): MaterialSpread {
  const process = processOf(document, material);
  const { source: sourceId } = process;
  const source = sourceOf(document, sourceId);
  const motion = motionOf(document);
  const shields = shieldsOf(document, sourceId);
  const rackMm = evenly(load.rackDiameterMm / 2, RACK_POINTS);
  const rack = deposit({ source, motion, points: rackMm, shields: plainShields(shields) });
  const { film, lenses, witnesses, mean } = filmOnPlaces(document, sourceId, load, shields);
  const crystal = crystalTooling(document, source, shields, mean);
  const ofOthers = load.otherLots.map(
    ({ places }) => filmOnPlaces(document, sourceId, { places }, shields).film,
  );
  return {
    material,
    label,
    source: process.source,
    atPlaces: Float64Array.from(film, (value) => value / mean),
    atOtherPlaces: ofOthers.map((film) => Float64Array.from(film, (value) => value / mean)),
    rack: {
      radiusMm: Float64Array.from(rackMm),
      relative: Float64Array.from(rack.perMassPerMm2, (value) => value / mean),
    },
    deviationPercent: deviationOf(lenses, mean),
    lens: overLens(document, side, sourceId, middleRadius(placeRadii(load))),
    ...(witnesses.length === 0 ? {} : { witnessTooling: meanOf(witnesses) / mean }),
    ...(crystal === undefined ? {} : { crystalTooling: crystal }),
    ownWitnessTooling: process.witnessTooling,
    ownCrystalTooling: process.crystalTooling,
    ...(shields.length === 0 ? {} : { shade: shadeOf(document, material, load) }),
    perMassPerMm2: mean,
  };
}

/** What arrives on every place of a rack behind some shields. */
function filmOnPlaces(
  document: Batch,
  sourceId: string,
  load: Pick<LoadPlan, 'places'>,
  shields: readonly BatchShield[],
) {
  const radii = placeRadii(load);
  const points = [...new Set(radii)];
  const { perMassPerMm2 } = deposit({
    source: sourceOf(document, sourceId),
    motion: motionOf(document),
    points,
    shields: plainShields(shields),
  });
  const at = new Map(points.map((radius, index) => [radius, perMassPerMm2[index]!]));
  const film = radii.map((radius) => at.get(radius)!);
  const ofUse = (use: 'lens' | 'witness') => film.filter((_, index) => load.places[index]!.use === use);
  const [lenses, witnesses] = [ofUse('lens'), ofUse('witness')];
  return { film, lenses, witnesses, mean: meanOf(lenses.length > 0 ? lenses : film) };
}

/** What the shields do to a material's film, and to the toolings that were measured without some of them. */
export function shadeOf(document: Batch, material: string, load: LoadPlan): ShadePlan {
  const { source } = processOf(document, material);
  const shields = shieldsOf(document, source);
  const behind = (some: readonly BatchShield[]) => filmOnPlaces(document, source, load, some);
  const now = behind(shields);
  const bare = behind([]);
  const then = behind(shields.filter(({ inTooling }) => inTooling === true));
  const witnessOver = ({ witnesses, mean }: typeof now) =>
    witnesses.length > 0 ? meanOf(witnesses) / mean : 1;
  return {
    bareDeviationPercent: deviationOf(bare.lenses, bare.mean),
    takenPercent: 100 * (1 - now.mean / bare.mean),
    crystalFactor: then.mean / now.mean,
    witnessFactor: witnessOver(now) / witnessOver(then),
  };
}

function deviationOf(lenses: readonly number[], mean: number): number {
  return lenses.reduce((most, value) => Math.max(most, 100 * Math.abs(value / mean - 1)), 0);
}

function placeRadii({ places }: Pick<LoadPlan, 'places'>): number[] {
  return places.map(({ xMm, yMm }) => Number(Math.hypot(xMm, yMm).toFixed(PLACE_DECIMALS)));
}

/**
 * The film over a lens on the place at `seatRadiusMm`, over that at its centre; outward along the rack's radius. A plane
 * face follows the rack; the holder's lip shadows the edge of either.
 */
export function overLens(document: Batch, side: Side, sourceId: string, seatRadiusMm: number): RadialCourse {
  const { lens } = document.order;
  const source = sourceOf(document, sourceId);
  const motion = motionOf(document);
  const shields = plainShields(shieldsOf(document, sourceId));
  const points = evenly(lens.clearApertureMm / 2, LENS_POINTS);
  const radius = convexRadiusMm(document, side);
  const holder = planHolder(document);
  if (radius === undefined && holder.lipMm === 0) {
    const { relative } = deposit({
      source,
      motion,
      shields,
      points: points.map((point) => seatRadiusMm + point),
    });
    return { radiusMm: Float64Array.from(points), relative: Float64Array.from(relative) };
  }
  const curvature = Math.abs(radius ?? PLANE_MM);
  const convex = (radius ?? PLANE_MM) > 0;
  const rim = lipBefore(holder, curvature, convex);
  const { lens: film } = deposit({
    source,
    motion,
    shields,
    points: [],
    lens: {
      seatRadiusMm,
      radiusOfCurvatureMm: curvature,
      convex,
      diameterMm: lens.diameterMm,
      ...(rim === undefined ? {} : { rim }),
      points,
    },
  });
  return { radiusMm: Float64Array.from(points), relative: Float64Array.from(film?.relative ?? []) };
}

/** Thickness on the crystal over that on the mean lens; undefined where the source does not reach the crystal. */
function crystalTooling(
  document: Batch,
  source: VapourSource,
  shields: readonly BatchShield[],
  lensPerMm2: number,
): number | undefined {
  const { crystals } = document.chamber;
  const heightMm = crystals.heightMm ?? document.fixture.heightMm;
  const offsetMm = crystals.offsetMm ?? 0;
  const element = hung(flatSeat(0), { radius: offsetMm, height: heightMm, tilt: 0 });
  if (heightMm <= 0 || isShaded(plainShields(shields).map(shieldShape), source, element)) return undefined;
  const { sensorPerMm2 } = toolingFactor(source, motionOf(document), 0, {
    offsetMm,
    heightMm,
  });
  return sensorPerMm2 / lensPerMm2;
}

/** A source of the chamber as its kernels read it. */
export function sourceOf({ chamber }: Batch, id: string): VapourSource {
  const { offsetMm, azimuthDeg, exponent, heightMm } =
    chamber.sources.find((candidate) => candidate.id === id) ?? chamber.sources[0]!;
  return { offsetMm, azimuthDeg, exponent, ...(heightMm === undefined ? {} : { heightMm }) };
}

/** The radius of the place that has as many places inside as outside. */
function middleRadius(radii: readonly number[]): number {
  return radii.toSorted((first, second) => first - second)[Math.floor(radii.length / 2)] ?? 0;
}

function evenly(toMm: number, count: number): number[] {
  return Array.from({ length: count }, (_, index) => (toMm * index) / (count - 1));
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
