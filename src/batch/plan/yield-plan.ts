import type { CoatedSurface } from '../../design/coated-surface.ts';
import { sensitivities } from '../../design/tolerance/sensitivity.ts';
import { trialPlan } from '../../design/tolerance/trial-plan.ts';
import { percentile } from '../../math/percentile.ts';
import { wilsonInterval } from '../../math/wilson-interval.ts';
import { SpectrumSolver } from '../../optics/spectrum-solver.ts';
import type { Batch, Surface } from '../document.ts';
import { coatedSides } from '../sides.ts';
import { IndexBook } from './index-of.ts';
import { LensJudge } from './lens-judge.ts';
import { lensPlaces, type PlacedPlan, placeFilms, type SideFilms } from './place-films.ts';
import { computePlan } from './plan.ts';
import type { SurfaceYield, YieldPlan } from './plan-types.ts';
import { allSides, shareOfLenses } from './share-of-lenses.ts';
import { bandOf } from './surface-plan.ts';
import { aTurn, type VirtualFilms, virtualFilms, type YieldContext } from './virtual-films.ts';

/** Virtual runs of each side: enough for a yield to about ±4 % in well under a second. */
export const YIELD_RUNS = 400;
/** The seed of the sensitivities, whose errors are none. */
const SEED = 1;
/** Wavelengths of the band between the percentiles. */
const BAND_POINTS = 61;
/** Runs judged between two turns given to other work. */
const JUDGED_AT_ONCE = 20;

/**
 * The share of lenses that meet the drawing: virtual runs with the batch's own monitoring and noise, aimed as the batch says,
 * each judged on every lens place of the load at the lens's centre and at the edge of its clear aperture. A lens is good where
 * all its sides are; the sides' runs are independent, and a lens keeps its place. Without noise it is the share of
 * `planPlaces`' good places.
 * @throws InputError where the chain or the monitor's settings have no answer.
 */
export async function computeYield(
  document: Batch,
  runs = YIELD_RUNS,
  context: YieldContext = {},
  plan: PlacedPlan = computePlan(document),
): Promise<YieldPlan> {
  const book = new IndexBook(document.materials);
  const places = lensPlaces(plan.load);
  const placed = placeFilms(document, plan);
  const surfaces: SurfaceYield[] = [];
  const shares: Float64Array[] = [];
  let ofFront: VirtualFilms | undefined;
  for (const [index, coated] of coatedSides(document).entries()) {
    const side = placed[index]!;
    // A back that is coated as the front has its runs, but not its curvature.
    const films =
      coated.own || ofFront === undefined
        ? await virtualFilms(document, coated, book, runs, context)
        : ofFront;
    ofFront ??= films;
    const share = await judged(side, places, films, context);
    shares.push(share);
    surfaces.push(sideYield(side, films, meanOf(share)));
  }
  const all = meanOf(allSides(shares));
  return { surfaces, yield: all, yield95: interval(all, runs) };
}

/** In which share of the runs each lens is good. */
async function judged(
  side: SideFilms,
  places: readonly number[],
  { thicknessNm }: VirtualFilms,
  context: YieldContext,
): Promise<Float64Array> {
  const judge = new LensJudge(side, places);
  const good: boolean[][] = [];
  for (const [run, film] of thicknessNm.entries()) {
    good.push(judge.good(film));
    if (run % JUDGED_AT_ONCE > 0) continue;
    context.progress?.((run + 1) / thicknessNm.length, `lenses of the virtual runs, ${side.side} side`);
    await aTurn(context);
  }
  return shareOfLenses(good, places.length);
}

/**
 * Lenses of one run share its errors, so that runs are counted, not lenses: as if each run were good or bad as a whole, which
 * is the widest that the interval can be.
 */
function interval(share: number, runs: number): [number, number] {
  return wilsonInterval(Math.min(runs, share * runs), runs);
}

function meanOf(values: ArrayLike<number>): number {
  let sum = 0;
  for (let index = 0; index < values.length; index++) sum += values[index]!;
  return values.length === 0 ? 0 : sum / values.length;
}

function sideYield(
  { side, surface, optical, judge }: SideFilms,
  { thicknessNm: films, missedCuts }: VirtualFilms,
  share: number,
): SurfaceYield {
  const runs = films.length;
  const [from, to] = bandOf(surface.requirements);
  const wavelengthNm = Float64Array.from(
    { length: BAND_POINTS },
    (_, index) => from + ((to - from) * index) / (BAND_POINTS - 1),
  );
  const solver = new SpectrumSolver(
    {
      wavelengthNm,
      incident: optical.incident(wavelengthNm),
      layers: optical.layers.map(({ index }) => index(wavelengthNm)),
      substrate: optical.substrate(wavelengthNm),
    },
    0,
    's',
  );
  const columns = Array.from(wavelengthNm, () => new Float64Array(runs));
  const reflectance = new Float64Array(BAND_POINTS);
  const transmittance = new Float64Array(BAND_POINTS);
  for (const [run, thicknessNm] of films.entries()) {
    solver.spectrum(thicknessNm, reflectance, transmittance);
    for (const [index, column] of columns.entries()) column[run] = reflectance[index]!;
  }
  for (const column of columns) column.sort();
  const at = (percent: number) => Float64Array.from(columns, (column) => percentile(column, percent));
  return {
    side,
    yield: share,
    yield95: interval(share, runs),
    meanPlaceYield: films.filter((thicknessNm) => judge.passes(thicknessNm)).length / runs,
    missedCuts,
    sensitivity: sensitivityOf(optical, surface),
    wavelengthNm,
    percentile: { p5: at(5), p50: at(50), p95: at(95) },
  };
}

/** Rise of the merit for 1 % of each layer's thickness; zeros where nothing is required. */
function sensitivityOf(optical: CoatedSurface, { layers, requirements }: Surface): number[] {
  if (requirements.length === 0) return layers.map(() => 0);
  const noErrors = { relativePercent: 0, absoluteNm: 0, indexPercent: 0 };
  return sensitivities(trialPlan(optical, requirements, noErrors, SEED)).map(({ meritRise }) =>
    Math.max(0, meritRise),
  );
}
