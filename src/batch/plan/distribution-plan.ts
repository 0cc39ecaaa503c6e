import { InputError, joinPath } from '../../base/errors.ts';
import { remember } from '../../base/remember.ts';
import { type Deposit, type DepositRequest, depositOn } from '../../chamber/deposit.ts';
import type { PlanetaryMotion } from '../../chamber/motion.ts';
import { toolingFactor } from '../../chamber/tooling.ts';
import type { Batch, Side } from '../document.ts';
import { convexRadiusMm } from '../sides.ts';
import { processOf } from './film-facts.ts';
import type { DistributionPlan, LayerPlan, LoadPlan, MaterialSpread, RadialCourse } from './plan-types.ts';

/** Points of the course over the rack. */
const RACK_POINTS = 25;
/** Points of the course over the lens. */
const LENS_POINTS = 7;
/** Places whose distances from the rack's axis round to the same thousandth of a mm get the same film. */
const PLACE_DECIMALS = 3;

/** Most edits leave the geometry alone; several materials of one source share it. */
const deposit = remember<DepositRequest, Deposit>(depositOn, 24);

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
  const source = sourceOf(document, process.source);
  const motion = motionOf(document);
  const radii = load.places.map(({ xMm, yMm }) => Number(Math.hypot(xMm, yMm).toFixed(PLACE_DECIMALS)));
  const distinct = [...new Set(radii)];
  const rackMm = evenly(load.rackDiameterMm / 2, RACK_POINTS);
  const { perMassPerMm2 } = deposit({ source, motion, points: [...distinct, ...rackMm] });
  const at = new Map(distinct.map((radius, index) => [radius, perMassPerMm2[index]!]));
  const film = radii.map((radius) => at.get(radius)!);
  const ofUse = (use: 'lens' | 'witness') => film.filter((_, index) => load.places[index]!.use === use);
  const lenses = ofUse('lens');
  const mean = meanOf(lenses.length > 0 ? lenses : film);
  const witnesses = ofUse('witness');
  const crystal = crystalTooling(document, source, mean);
  return {
    material,
    label,
    source: process.source,
    atPlaces: Float64Array.from(film, (value) => value / mean),
    rack: {
      radiusMm: Float64Array.from(rackMm),
      relative: Float64Array.from(perMassPerMm2.slice(distinct.length), (value) => value / mean),
    },
    deviationPercent: lenses.reduce((most, value) => Math.max(most, 100 * Math.abs(value / mean - 1)), 0),
    lens: overLens(document, side, process.source, middleRadius(radii)),
    ...(witnesses.length === 0 ? {} : { witnessTooling: meanOf(witnesses) / mean }),
    ...(crystal === undefined ? {} : { crystalTooling: crystal }),
    ownWitnessTooling: process.witnessTooling,
    ownCrystalTooling: process.crystalTooling,
    perMassPerMm2: mean,
  };
}

/**
 * The film over a lens on the place at `seatRadiusMm`, over that at its centre; outward along the rack's radius. A plane
 * face follows the rack.
 */
export function overLens(document: Batch, side: Side, sourceId: string, seatRadiusMm: number): RadialCourse {
  const { lens } = document.order;
  const source = sourceOf(document, sourceId);
  const motion = motionOf(document);
  const points = evenly(lens.clearApertureMm / 2, LENS_POINTS);
  const radius = convexRadiusMm(document, side);
  if (radius === undefined) {
    const { relative } = deposit({ source, motion, points: points.map((point) => seatRadiusMm + point) });
    return { radiusMm: Float64Array.from(points), relative: Float64Array.from(relative) };
  }
  const { lens: film } = deposit({
    source,
    motion,
    points: [],
    lens: {
      seatRadiusMm,
      radiusOfCurvatureMm: Math.abs(radius),
      convex: radius > 0,
      diameterMm: lens.diameterMm,
      points,
    },
  });
  return { radiusMm: Float64Array.from(points), relative: Float64Array.from(film?.relative ?? []) };
}

/** Thickness on the crystal over that on the mean lens; undefined where the source does not reach the crystal. */
function crystalTooling(
  document: Batch,
  source: ReturnType<typeof sourceOf>,
  lensPerMm2: number,
): number | undefined {
  const { crystals } = document.chamber;
  const heightMm = crystals.heightMm ?? document.fixture.heightMm;
  if (heightMm <= 0) return undefined;
  const { sensorPerMm2 } = toolingFactor(source, motionOf(document), 0, {
    offsetMm: crystals.offsetMm ?? 0,
    heightMm,
  });
  return sensorPerMm2 / lensPerMm2;
}

function sourceOf({ chamber }: Batch, id: string) {
  const { offsetMm, azimuthDeg, exponent } =
    chamber.sources.find((candidate) => candidate.id === id) ?? chamber.sources[0]!;
  return { offsetMm, azimuthDeg, exponent };
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
