import type { CoatedSurface } from '../../design/coated-surface.ts';
import { ThicknessJudge } from '../../design/thickness-judge.ts';
import { sensitivities } from '../../design/tolerance/sensitivity.ts';
import { trialPlan } from '../../design/tolerance/trial-plan.ts';
import { percentile } from '../../math/percentile.ts';
import { wilsonInterval } from '../../math/wilson-interval.ts';
import { setUpRuns } from '../../monitor/run-setup.ts';
import { joinBlocks, type RunBlock, simulateRuns } from '../../monitor/simulate-runs.ts';
import { SpectrumSolver } from '../../optics/spectrum-solver.ts';
import type { Batch, Surface } from '../document.ts';
import { type CoatedSide, coatedSides } from '../sides.ts';
import { IndexBook } from './index-of.ts';
import { monitoredLayers, witnessOf } from './monitored-layers.ts';
import type { SurfaceYield, YieldPlan } from './plan-types.ts';
import { bandOf, coatedSurface } from './surface-plan.ts';
import { within } from './within.ts';

/** Virtual runs of each side: enough for a yield to about ±4 % in well under a second. */
export const YIELD_RUNS = 400;
/** The seed of the virtual runs: the same batch always gets the same yield. */
const SEED = 1;
/** Wavelengths of the band between the percentiles. */
const BAND_POINTS = 61;

/** Runs between two turns given to other work. */
const RUNS_AT_ONCE = 25;

/** Who wants the answer still, and who hears how far it is. */
export interface YieldContext {
  readonly signal?: AbortSignal;
  readonly progress?: (fraction: number, doing: string) => void;
}

/**
 * The yield that the chosen way of monitoring gives: virtual runs with the batch's noise, each judged by the
 * requirements. A lens is good where all its sides are; the sides' runs are independent.
 * @throws InputError where the monitor's settings have no answer.
 */
export async function computeYield(
  document: Batch,
  runs = YIELD_RUNS,
  context: YieldContext = {},
): Promise<YieldPlan> {
  const book = new IndexBook(document.materials);
  let front: SurfaceYield | undefined;
  const surfaces: SurfaceYield[] = [];
  for (const coated of coatedSides(document)) {
    const { side, own } = coated;
    const one = own || front === undefined ? await sideYield(document, coated, book, runs, context) : front;
    front ??= one;
    surfaces.push({ ...one, side });
  }
  const product = (pick: (surface: SurfaceYield) => number) =>
    surfaces.reduce((all, one) => all * pick(one), 1);
  return {
    surfaces,
    yield: product((one) => one.yield),
    yield95: [product(({ yield95 }) => yield95[0]), product(({ yield95 }) => yield95[1])],
  };
}

async function sideYield(
  document: Batch,
  { side, surface }: CoatedSide,
  book: IndexBook,
  runs: number,
  context: YieldContext,
): Promise<SurfaceYield> {
  const setup = within('monitor', () =>
    setUpRuns(
      witnessOf(document, surface.incident, book),
      monitoredLayers(document, surface.layers, book),
      document.monitor.noise,
    ),
  );
  const blocks: RunBlock[] = [];
  for (let from = 0; from < runs; from += RUNS_AT_ONCE) {
    const to = Math.min(runs, from + RUNS_AT_ONCE);
    blocks.push(simulateRuns(setup, SEED, from, to));
    context.progress?.(to / runs, `virtual runs, ${side} side`);
    await new Promise((resolve) => setTimeout(resolve, 0));
    context.signal?.throwIfAborted();
  }
  const block = joinBlocks(blocks);
  const optical = coatedSurface(document, surface, book);
  const judge = new ThicknessJudge(optical, surface.requirements);
  const count = surface.layers.length;
  const thicknesses = Array.from({ length: runs }, (_, run) =>
    block.thicknessNm.subarray(run * count, (run + 1) * count),
  );
  const passed = thicknesses.filter((thicknessNm) => judge.passes(thicknessNm)).length;
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
  for (const [run, thicknessNm] of thicknesses.entries()) {
    solver.spectrum(thicknessNm, reflectance, transmittance);
    for (const [index, column] of columns.entries()) column[run] = reflectance[index]!;
  }
  for (const column of columns) column.sort();
  const at = (percent: number) => Float64Array.from(columns, (column) => percentile(column, percent));
  const missedCuts = Array.from({ length: count }, (_, layer) => {
    let missed = 0;
    for (let run = 0; run < runs; run++) if (block.ending[run * count + layer] !== 0) missed++;
    return missed / runs;
  });
  return {
    side,
    yield: passed / runs,
    yield95: wilsonInterval(passed, runs),
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
