import { Random } from '../math/random.ts';
import type { Mishap } from './mishap.ts';
import type { RehearsedLayer } from './rehearsal.ts';
import type { RunSetup } from './run-setup.ts';
import { VirtualRun } from './virtual-run.ts';

export interface RehearsalScore {
  /** Of all layers finished so far, 0 to 1000. */
  readonly points: number;
  /** Of each of them. */
  readonly perLayer: readonly number[];
  /** What the controller alone would have got in the same layers of the same run. */
  readonly controllerPoints: number;
}

/** A layer has half its points left at an error of one part in a hundred, or of this where that is less, nm. */
const HALF_SHARE = 0.01;
const HALF_NM = 0.3;
const FULL = 1000;

/** Points of a layer: 1000 without error, half as many for each 1 % (or 0.3 nm) that it is off. */
export function layerPoints(plannedNm: number, trueNm: number): number {
  const half = Math.max(HALF_NM, HALF_SHARE * plannedNm);
  return FULL * 2 ** (-Math.abs(trueNm - plannedNm) / half);
}

/**
 * The points of the finished layers, and those of the controller when it runs the same seed and mishaps from
 * the start.
 */
export function scoreOf(
  setup: RunSetup,
  finished: readonly RehearsedLayer[],
  seed: number,
  mishaps: readonly Mishap[],
): RehearsalScore {
  const made = finished.filter(({ plannedNm }) => plannedNm > 0);
  const perLayer = finished.map(({ plannedNm, trueNm }) => layerPoints(plannedNm, trueNm));
  const run = new VirtualRun(setup, { largestBatch: 1, mishaps, watchLight: true });
  run.runAll(new Random(seed), true);
  const mean = (values: readonly number[]) =>
    values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;
  return {
    points: mean(made.map(({ plannedNm, trueNm }) => layerPoints(plannedNm, trueNm))),
    perLayer,
    controllerPoints: mean(
      made.map(({ layer, plannedNm }) => layerPoints(plannedNm, run.thicknessNm[layer]!)),
    ),
  };
}
