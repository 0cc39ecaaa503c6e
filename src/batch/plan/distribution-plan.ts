import { InputError, joinPath } from '../../base/errors.ts';
import { flatSeat, hung } from '../../chamber/element.ts';
import { isShaded, shieldShape } from '../../chamber/shield.ts';
import { toolingFactor } from '../../chamber/tooling.ts';
import type { Batch, BatchShield, Side } from '../document.ts';
import { processOf } from './film-facts.ts';
import {
  filmAtEdge,
  filmAtSeats,
  filmOnPlaces,
  filmOverLens,
  type SeatOnRack,
  seatsOf,
} from './film-on-load.ts';
import { motionOf } from './load-motion.ts';
import type {
  DistributionPlan,
  LayerPlan,
  LoadPlan,
  MaterialSpread,
  RadialCourse,
  ShadePlan,
} from './plan-types.ts';
import { plainShields } from './shields-of.ts';
import { type VapourShare, vapourOf } from './vapour-of.ts';

/** Points of the course over the rack. */
const RACK_POINTS = 25;
/** Points of the course over the lens, from its centre to its edge. */
const LENS_POINTS = 7;

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
  return {
    side,
    materials,
    deviationPercent: Math.max(0, ...materials.map(({ deviationPercent }) => deviationPercent)),
    edgePercent: worstOf(materials.map(({ edgePercent }) => edgePercent)),
  };
}

function worstOf(percents: readonly number[]): number {
  return percents.reduce((worst, one) => (Math.abs(one) > Math.abs(worst) ? one : worst), 0);
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
  const vapour = vapourOf(document, material);
  const { film, lenses, witnesses, mean } = filmOnPlaces(document, vapour, load);
  const crystal = crystalTooling(document, vapour, mean);
  const middle = middleSeat(seatsOf(document, load.places));
  const edges = filmAtEdge(document, side, vapour, middle);
  const ofOthers = load.otherLots.map(({ places }) => filmOnPlaces(document, vapour, { places }).film);
  return {
    material,
    label,
    source: process.source,
    shares: vapour.map(({ id, share }) => ({ source: id, share })),
    atPlaces: Float64Array.from(film, (value) => value / mean),
    atOtherPlaces: ofOthers.map((film) => Float64Array.from(film, (value) => value / mean)),
    rack: overRack(document, vapour, load.rackDiameterMm / 2, mean),
    deviationPercent: deviationOf(lenses, mean),
    lens: overLens(document, side, vapour, middle),
    edgePercent: worstOf(edges.map((edge) => 100 * (edge - 1))),
    ...(witnesses.length === 0 ? {} : { witnessTooling: meanOf(witnesses) / mean }),
    ...(crystal === undefined ? {} : { crystalTooling: crystal }),
    ownWitnessTooling: process.witnessTooling,
    ownCrystalTooling: process.crystalTooling,
    ...(vapour.some(({ shields }) => shields.length > 0) ? { shade: shadeOf(document, material, load) } : {}),
    perMassPerMm2: mean,
  };
}

/** The course over the rack: from its axis to its rim; over a rack at rest from rim to rim, towards the source. */
function overRack(
  document: Batch,
  vapour: readonly VapourShare[],
  rimMm: number,
  mean: number,
): RadialCourse {
  const isAtRest = motionOf(document).kind === 'fixed';
  const towards = vapour[0]!.source.azimuthDeg ?? 0;
  const radii = evenly(rimMm, RACK_POINTS);
  const radiusMm = isAtRest ? mirrored(radii) : radii;
  const seats = radiusMm.map(
    (radius): SeatOnRack => ({
      radiusMm: Math.abs(radius),
      deg: isAtRest ? towards + (radius < 0 ? 180 : 0) : 0,
    }),
  );
  return {
    radiusMm: Float64Array.from(radiusMm),
    relative: Float64Array.from(filmAtSeats(document, vapour, seats), (value) => value / mean),
  };
}

/** What the shields do to a material's film, and to the toolings that were measured without some of them. */
export function shadeOf(document: Batch, material: string, load: LoadPlan): ShadePlan {
  const vapour = vapourOf(document, material);
  const behind = (stands: (shield: BatchShield) => boolean) =>
    filmOnPlaces(
      document,
      vapour.map((one) => ({ ...one, shields: one.shields.filter(stands) })),
      load,
    );
  const now = behind(() => true);
  const bare = behind(() => false);
  const then = behind(({ inTooling }) => inTooling === true);
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

/** The film across a lens along its rack's radius, from the edge of the clear aperture inside to that outside. */
function overLens(
  document: Batch,
  side: Side,
  vapour: readonly VapourShare[],
  seat: SeatOnRack,
): RadialCourse {
  const radii = evenly(document.order.lens.clearApertureMm / 2, LENS_POINTS);
  const along = mirrored(radii);
  const film = filmOverLens(
    document,
    side,
    vapour,
    seat,
    along.map(Math.abs),
    along.map((radius) => (radius < 0 ? 180 : 0)),
  );
  return { radiusMm: Float64Array.from(along), relative: Float64Array.from(film) };
}

/** Thickness on the crystal over that on the mean lens; undefined where no source reaches the crystal. */
function crystalTooling(
  document: Batch,
  vapour: readonly VapourShare[],
  lensPerMm2: number,
): number | undefined {
  const { crystals } = document.chamber;
  const heightMm = crystals.heightMm ?? document.fixture.heightMm;
  const offsetMm = crystals.offsetMm ?? 0;
  const element = hung(flatSeat(0), { radius: offsetMm, height: heightMm, tilt: 0 });
  const seen = vapour.filter(
    ({ source, shields }) => !isShaded(plainShields(shields).map(shieldShape), source, element),
  );
  if (heightMm <= 0 || seen.length === 0) return undefined;
  const motion = motionOf(document);
  const perMm2 = seen.reduce(
    (sum, { source, share }) =>
      sum + share * toolingFactor(source, motion, 0, { offsetMm, heightMm }).sensorPerMm2,
    0,
  );
  return perMm2 / lensPerMm2;
}

/** The seat that has as many seats nearer to the axis as farther from it. */
function middleSeat(seats: readonly SeatOnRack[]): SeatOnRack {
  const sorted = seats.toSorted((first, second) => first.radiusMm - second.radiusMm);
  return sorted[Math.floor(sorted.length / 2)] ?? { radiusMm: 0, deg: 0 };
}

function evenly(toMm: number, count: number): number[] {
  return Array.from({ length: count }, (_, index) => (toMm * index) / (count - 1));
}

/** From the far side to this one: radii that begin at 0, with their negatives before them. */
function mirrored(radii: readonly number[]): number[] {
  return [
    ...radii
      .slice(1)
      .map((radius) => -radius)
      .reverse(),
    ...radii,
  ];
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
