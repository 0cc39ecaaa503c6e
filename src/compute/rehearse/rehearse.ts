import { InputError } from '../../base/errors.ts';
import { percentile } from '../../math/percentile.ts';
import { wilsonInterval } from '../../math/wilson-interval.ts';
import { runStatistics } from '../../monitor/run-statistics.ts';
import { joinBlocks } from '../../monitor/simulate-runs.ts';
import { spreadInline } from '../spread.ts';
import type { TaskContext } from '../task.ts';
import { type RehearseRequest, withStrategy } from './rehearse-shapes.ts';
import { type Judging, judging, type RunSpan, type RunsFound } from './virtual-runs.ts';

/** Readings that are worth waking other threads for: about half a second's work. A span has no more where it can. */
const WORTH_SHARING = 1e7;
/** Fewest spans that are dealt out to the threads, so that they end together. */
const FEWEST_SPANS = 32;
/** Most values of all runs' spectra: they are kept for the percentiles. */
const MOST_VALUES = 2e8;

/** The answer to a request, and beside it that of each other way of monitoring, with the same seed. */
export async function rehearse(request: RehearseRequest, context: TaskContext) {
  const ways = 1 + request.strategies.length;
  const slice = (done: number): TaskContext => ({
    ...context,
    progress: (fraction, doing) => context.progress?.((done + fraction) / ways, doing),
  });
  const answer = await rehearseOneWay(request, slice(0));
  if (ways === 1) return answer;
  const strategies = [];
  for (const [index, { name }] of request.strategies.entries()) {
    const { percentiles, correlation, ...found } = await rehearseOneWay(
      withStrategy(request, index),
      slice(index + 1),
    );
    strategies.push({ name, ...found, reflectance: percentiles.R, correlation });
  }
  return { ...answer, strategies };
}

/** All runs, by several threads where there are some and the work is worth it; the answer is the same bit for bit. */
async function rehearseOneWay(request: RehearseRequest, context: TaskContext) {
  const { runs } = request;
  const ready = judging(request);
  const { layers, noise } = ready.setup;
  const size = ready.shown.wavelengthNm.length;
  if (runs * size > MOST_VALUES)
    throw new InputError('wavelengthNm', `${runs} runs at ${size} wavelengths are more than 2e8 values`);
  const readings = layers.reduce((sum, one) => sum + one.thicknessNm / one.rateNmPerS / noise.sampleS, 0);
  const worth = readings * runs >= WORTH_SHARING;
  const spread = (worth ? context.spread : undefined) ?? spreadInline;
  const spans = spansOf(runs, WORTH_SHARING / readings);
  context.progress?.(0, 'virtual runs');
  const found = await spread('virtual-runs', request, spans, context.signal, (count) =>
    context.progress?.(count / spans.length, 'virtual runs'),
  );
  return answerOf(request, ready, found);
}

function spansOf(runs: number, most: number): RunSpan[] {
  const size = Math.max(1, Math.floor(Math.min(runs / FEWEST_SPANS, most)));
  return Array.from({ length: Math.ceil(runs / size) }, (_, i) => ({
    from: i * size,
    to: Math.min(runs, (i + 1) * size),
  }));
}

/** The answer to a request from what was found of all its runs, in their order. */
function answerOf(request: RehearseRequest, ready: Judging, found: readonly RunsFound[]) {
  const { setup, book, shown, opticalDoubts, crystalDoubts } = ready;
  const { runs, requirements } = request;
  const block = joinBlocks(found.map((one) => one.block));
  const passed = found.reduce((sum, one) => sum + one.passed, 0);
  const statistics = runStatistics(
    block,
    setup.layers.map(({ thicknessNm }) => thicknessNm),
  );
  const sorted = columnsOf(found, runs, shown.wavelengthNm.length).map((column) => column.sort());
  const band = (percent: number) => sorted.map((column) => percentile(column, percent));
  return {
    thicknessErrorNm: statistics.layers.map(({ mean, sigma, percentiles }) => ({ mean, sigma, percentiles })),
    correlation: statistics.correlation,
    ...(requirements.length === 0 ? {} : { yield: passed / runs, yield95: wilsonInterval(passed, runs) }),
    percentiles: {
      wavelengthNm: shown.wavelengthNm,
      incidenceDeg: shown.incidenceDeg,
      R: { '5': band(5), '50': band(50), '95': band(95) },
    },
    missedCuts: statistics.layers.map(({ missed }) => missed),
    runsWithMissedCut: statistics.runsWithMissedCut,
    ...(statistics.crystals === undefined ? {} : { crystals: statistics.crystals }),
    runs,
    warnings: [
      ...new Set([
        ...book.warnings,
        ...opticalDoubts,
        ...crystalDoubts,
        ...setup.plans.flatMap(({ doubts }, layer) =>
          doubts.map((doubt) => `monitor.layers[${layer}]: ${doubt}.`),
        ),
      ]),
    ],
  };
}

/** R of all runs, one list a wavelength. */
function columnsOf(found: readonly RunsFound[], runs: number, size: number): Float64Array[] {
  const columns = Array.from({ length: size }, () => new Float64Array(runs));
  for (const { block, reflectance } of found)
    for (let run = block.from; run < block.to; run++)
      for (let w = 0; w < size; w++) columns[w]![run] = reflectance[(run - block.from) * size + w]!;
  return columns;
}
