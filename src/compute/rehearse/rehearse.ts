import { InputError } from '../../base/errors.ts';
import { bandGrid } from '../../design/wavelength-grid.ts';
import { percentile } from '../../math/percentile.ts';
import { wilsonInterval } from '../../math/wilson-interval.ts';
import { runStatistics } from '../../monitor/run-statistics.ts';
import { joinBlocks, type RunBlock, simulateRuns } from '../../monitor/simulate-runs.ts';
import type { Part, TaskContext } from '../task.ts';
import { Judge } from './judge.ts';
import {
  type ReadyRehearsal,
  type RehearseRequest,
  readyRehearsal,
  withStrategy,
} from './rehearse-shapes.ts';
import { RunSpectra } from './run-spectra.ts';

/** Runs that are worked out before others get a turn. */
const RUNS_AT_ONCE = 25;
/** Readings that are worth waking other threads for: about half a second's work. */
const WORTH_SHARING = 1e7;
/** Parts that are dealt out to the threads. */
const PARTS = 32;
/** Wavelengths of the bands where the request names none. */
const BAND_POINTS = 61;
/** The simulation's share of the progress; judging the runs has the rest. */
const SIMULATION_SHARE = 0.8;

/** Runs number `from` to `to - 1` of a request: what one thread of several works out. */
export function rehearsePart(request: RehearseRequest, { from, to }: Part): RunBlock {
  // Parts of all ways stand one after the other: way number w has the runs from w * runs on.
  const way = Math.floor(from / request.runs);
  const own = way === 0 ? request : withStrategy(request, way - 1);
  const first = way * request.runs;
  return simulateRuns(readyRehearsal(own).setup, own.seed, from - first, to - first);
}

/** The answer to a request, and beside it that of each other way of monitoring, with the same seed. */
export async function rehearse(request: RehearseRequest, context: TaskContext) {
  const ways = 1 + request.strategies.length;
  const slice = (done: number): TaskContext => ({
    ...context,
    progress: (fraction, doing) => context.progress?.((done + fraction) / ways, doing),
  });
  const answer = await rehearseOneWay(request, slice(0), 0);
  if (ways === 1) return answer;
  const strategies = [];
  for (const [index, { name }] of request.strategies.entries()) {
    const { percentiles, correlation, ...found } = await rehearseOneWay(
      withStrategy(request, index),
      slice(index + 1),
      index + 1,
    );
    strategies.push({ name, ...found, reflectance: percentiles.R, correlation });
  }
  return { ...answer, strategies };
}

/** All runs, by several threads where there are some and the work is worth it; the answer is the same bit for bit. */
async function rehearseOneWay(request: RehearseRequest, context: TaskContext, way: number) {
  const ready = readyRehearsal(request);
  const { layers, noise } = ready.setup;
  const samples = layers.reduce((sum, one) => sum + one.thicknessNm / one.rateNmPerS / noise.sampleS, 0);
  const alone = context.inParts === undefined || samples * request.runs < WORTH_SHARING;
  const block = alone ? await allRuns(request, ready, context) : await sharedRuns(request, context, way);
  return judgeRuns(request, ready, block, context);
}

/** In this thread, in portions between which an abort is heard and progress told. */
async function allRuns(request: RehearseRequest, { setup }: ReadyRehearsal, context: TaskContext) {
  const blocks: RunBlock[] = [];
  for (const { from, to } of partsOf(request.runs, RUNS_AT_ONCE)) {
    blocks.push(simulateRuns(setup, request.seed, from, to));
    await breathe(context, (SIMULATION_SHARE * to) / request.runs, 'virtual runs');
  }
  return joinBlocks(blocks);
}

async function sharedRuns(request: RehearseRequest, context: TaskContext, way: number) {
  const first = way * request.runs;
  const parts = partsOf(request.runs, Math.ceil(request.runs / PARTS)).map(({ from, to }) => ({
    from: first + from,
    to: first + to,
  }));
  const blocks = await context.inParts!(parts, (count) =>
    context.progress?.((SIMULATION_SHARE * count) / parts.length, 'virtual runs'),
  );
  return joinBlocks(blocks as RunBlock[]);
}

function partsOf(runs: number, size: number): Part[] {
  return Array.from({ length: Math.ceil(runs / size) }, (_, i) => ({
    from: i * size,
    to: Math.min(runs, (i + 1) * size),
  }));
}

/** The answer to a request from all its runs, whoever made them. */
export async function judgeRuns(
  request: RehearseRequest,
  ready: ReadyRehearsal,
  block: RunBlock,
  context: TaskContext,
) {
  const { setup, stack, book } = ready;
  const count = setup.layers.length;
  const runs = block.to - block.from;
  const plannedNm = setup.layers.map(({ thicknessNm }) => thicknessNm);
  const statistics = runStatistics(block, plannedNm);
  const judge = new Judge(stack, request.requirements);
  const incidenceDeg = request.requirements[0]?.incidenceDeg[0] ?? 0;
  const spectra = new RunSpectra(stack, gridOf(request), incidenceDeg, 'mean');
  const size = spectra.wavelengthNm.length;
  if (runs * size > 2e8)
    throw new InputError('wavelengthNm', `${runs} runs at ${size} wavelengths are more than 2e8 values`);
  const columns = Array.from({ length: size }, () => new Float64Array(runs));
  let passed = 0;
  for (let run = 0; run < runs; run++) {
    const thicknessNm = block.thicknessNm.subarray(run * count, (run + 1) * count);
    const indexFactor = block.indexFactor?.subarray(run * count, (run + 1) * count);
    if (request.requirements.length > 0 && judge.passes(thicknessNm, indexFactor)) passed++;
    spectra.update(thicknessNm, indexFactor);
    for (let w = 0; w < size; w++) columns[w]![run] = spectra.R[w]!;
    if (run % 500 === 499)
      await breathe(context, SIMULATION_SHARE + ((1 - SIMULATION_SHARE) * run) / runs, 'spectra of the runs');
  }
  for (const column of columns) column.sort();
  const band = (percent: number) => columns.map((column) => percentile(column, percent));
  return {
    thicknessErrorNm: statistics.layers.map(({ mean, sigma, percentiles }) => ({ mean, sigma, percentiles })),
    correlation: statistics.correlation,
    ...(request.requirements.length === 0
      ? {}
      : { yield: passed / runs, yield95: wilsonInterval(passed, runs) }),
    percentiles: {
      wavelengthNm: spectra.wavelengthNm,
      incidenceDeg,
      R: { '5': band(5), '50': band(50), '95': band(95) },
    },
    missedCuts: statistics.layers.map(({ missed }) => missed),
    runsWithMissedCut: statistics.runsWithMissedCut,
    runs,
    warnings: [
      ...new Set([
        ...book.warnings,
        ...spectra.warnings,
        ...judge.warnings,
        ...setup.plans.flatMap(({ doubts }, layer) =>
          doubts.map((doubt) => `monitor.layers[${layer}]: ${doubt}.`),
        ),
      ]),
    ],
  };
}

function gridOf({ wavelengthNm, requirements }: RehearseRequest): Float64Array {
  if (wavelengthNm !== undefined) return wavelengthNm;
  if (requirements.length === 0) return bandGrid([400, 700], BAND_POINTS);
  const from = Math.min(...requirements.map(({ bandNm }) => bandNm[0]));
  const to = Math.max(...requirements.map(({ bandNm }) => bandNm[1]));
  return bandGrid([from, to], BAND_POINTS);
}

/** Tells the progress, lets other work of the thread have a turn, and stops where the answer is not wanted. */
async function breathe({ signal, progress }: TaskContext, fraction: number, doing: string): Promise<void> {
  progress?.(fraction, doing);
  await new Promise((resolve) => setTimeout(resolve, 0));
  signal?.throwIfAborted();
}
