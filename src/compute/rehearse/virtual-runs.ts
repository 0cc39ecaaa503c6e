import { withIndexFactors } from '../../design/judged-channels.ts';
import { ChannelLight, type LightChannel, lightChannel } from '../../design/light-channel.ts';
import { thicknessesOf } from '../../design/sample-surface.ts';
import type { Pause } from '../../design/search/search-job.ts';
import { ThicknessJudge } from '../../design/thickness-judge.ts';
import { bandGrid } from '../../design/wavelength-grid.ts';
import { prepareFor } from '../../materials/prepare.ts';
import { joinBlocks, type RunBlock, simulateRuns } from '../../monitor/simulate-runs.ts';
import { resolveStack, shortest } from '../shapes.ts';
import { surfaceOfRequest } from '../surface-request.ts';
import { type ReadyRehearsal, type RehearseRequest, readyRehearsal } from './rehearse-shapes.ts';

/** Wavelengths of the bands where the request names none. */
const BAND_POINTS = 61;

/** Runs number `from` to `to - 1` of a request. */
export interface RunSpan {
  readonly from: number;
  readonly to: number;
}

/** What one thread of several finds of a request's runs. */
export interface RunsFound {
  readonly block: RunBlock;
  /** How many of the runs met all requirements; 0 where there are none. */
  readonly passed: number;
  /** R of every run at the wavelengths of `judging`, run after run. */
  readonly reflectance: Float64Array;
}

/** A request made ready, with what judges its runs. */
export interface Judging extends ReadyRehearsal {
  readonly judge: ThicknessJudge;
  /** The light of which the answer has bands, and what computes it. */
  readonly shown: LightChannel;
  readonly shownLight: ChannelLight;
  /** Of a plate's back, nm. */
  readonly backNm: Float64Array;
  /** Where the stack's data end within a band. */
  readonly opticalDoubts: readonly string[];
}

/** @throws InputError where the request's parts contradict each other or something is out of range. */
export function judging(request: RehearseRequest): Judging {
  const { requirements } = request;
  const ready = readyRehearsal(request);
  const shownNm = gridOf(request);
  const grids = [shownNm, ...requirements.map(({ bandNm }) => bandGrid(bandNm, BAND_POINTS))];
  const opticalDoubts = grids.flatMap((grid) => resolveStack(ready.stack, grid).warnings);
  const surface = surfaceOfRequest(ready.stack, Math.min(...grids.map(shortest)));
  const shown = lightChannel(surface, shownNm, requirements[0]?.incidenceDeg[0] ?? 0, 'mean');
  return {
    ...ready,
    judge: new ThicknessJudge(surface, requirements),
    shown,
    shownLight: new ChannelLight(shown),
    backNm: thicknessesOf(surface).backNm,
    opticalDoubts,
  };
}

/** A thread gets many spans of one request: it is made ready once. */
const READY = new WeakMap<RehearseRequest, Promise<Judging>>();

/** Runs between two chances to stop. */
const RUNS_AT_ONCE = 25;

/**
 * The kernel of virtual runs: makes the runs of a span and judges each. What it gives depends on request and span alone.
 * @param pause called now and then; it may throw to stop.
 */
export async function virtualRuns(
  request: RehearseRequest,
  { from, to }: RunSpan,
  pause: Pause,
): Promise<RunsFound> {
  const found = READY.get(request) ?? prepareFor(request).then(() => judging(request));
  READY.set(request, found);
  const ready = await found;
  const size = ready.shown.wavelengthNm.length;
  const reflectance = new Float64Array((to - from) * size);
  const blocks: RunBlock[] = [];
  let passed = 0;
  for (let first = from; first < to; first += RUNS_AT_ONCE) {
    await pause();
    const block = simulateRuns(ready.setup, request.seed, first, Math.min(to, first + RUNS_AT_ONCE));
    blocks.push(block);
    passed += judgeBlock(request, ready, block, reflectance.subarray((first - from) * size));
  }
  return { block: joinBlocks(blocks), passed, reflectance };
}

/** Fills in the spectra of a block's runs; answers how many of them meet all requirements. */
function judgeBlock(
  { requirements }: RehearseRequest,
  { setup, judge, shown, shownLight, backNm }: Judging,
  block: RunBlock,
  reflectance: Float64Array,
): number {
  const layers = setup.layers.length;
  let passed = 0;
  for (let run = 0; run < block.to - block.from; run++) {
    const thicknessNm = block.thicknessNm.subarray(run * layers, (run + 1) * layers);
    const indexFactor = block.indexFactor?.subarray(run * layers, (run + 1) * layers);
    if (requirements.length > 0 && judge.passes(thicknessNm, indexFactor)) passed++;
    const light =
      indexFactor === undefined
        ? shownLight
        : new ChannelLight(withIndexFactors(shown, indexFactor, indexFactor));
    light.update(thicknessNm, backNm);
    reflectance.set(light.R, run * light.R.length);
  }
  return passed;
}

function gridOf({ wavelengthNm, requirements }: RehearseRequest): Float64Array {
  if (wavelengthNm !== undefined) return wavelengthNm;
  if (requirements.length === 0) return bandGrid([400, 700], BAND_POINTS);
  const from = Math.min(...requirements.map(({ bandNm }) => bandNm[0]));
  const to = Math.max(...requirements.map(({ bandNm }) => bandNm[1]));
  return bandGrid([from, to], BAND_POINTS);
}
