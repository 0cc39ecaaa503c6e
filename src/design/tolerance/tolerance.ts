import { requireWithin } from '../../base/errors.ts';
import { percentileInPlace } from '../../math/select.ts';
import { wilsonInterval } from '../../math/wilson-interval.ts';
import type { BlockResult, TrialBlock } from './run-trials.ts';
import { type LayerSensitivity, sensitivities } from './sensitivity.ts';
import type { TrialPlan } from './trial-plan.ts';

/** Runs blocks of trials, on one thread or many, and gives the results in the order of the blocks. */
export type BlockRunner = (plan: TrialPlan, blocks: readonly TrialBlock[]) => Promise<BlockResult[]>;

export interface ToleranceResult {
  /** Share of the trials that met every requirement, with its 95 % interval (Wilson 1927). */
  readonly yield: number;
  readonly yield95: readonly [number, number];
  /** Of each requirement, the share of the trials that met it. */
  readonly requirementYield: readonly number[];
  readonly wavelengthNm: Float64Array;
  /** Reflectance that 5, 50 and 95 % of the trials stay below, at each wavelength. */
  readonly bands: Readonly<Record<'5' | '50' | '95', Float64Array>>;
  /** Trials whose spectra made the bands. */
  readonly bandTrials: number;
  readonly sensitivity: readonly LayerSensitivity[];
}

/** Trials of a block: fixed, so that the numbers drawn don't depend on the number of threads. */
const BLOCK_TRIALS = 500;
/** The bands are made of at most this many trials; more would only fill the memory. */
const MOST_BAND_TRIALS = 20_000;
export const MOST_TRIALS = 1_000_000;

/**
 * Yield, bands and sensitivities of a surface under manufacturing errors, by seeded Monte Carlo.
 * @param trials 1 to a million. @throws InputError for another number.
 */
export async function runTolerance(
  plan: TrialPlan,
  trials: number,
  runBlocks: BlockRunner,
): Promise<ToleranceResult> {
  requireWithin('trials', trials, '', { min: 1, max: MOST_TRIALS });
  const blocks = Array.from(
    { length: Math.ceil(trials / BLOCK_TRIALS) },
    (_, block): TrialBlock => ({
      block,
      trials: Math.min(BLOCK_TRIALS, trials - block * BLOCK_TRIALS),
      keepsSpectra: block * BLOCK_TRIALS < MOST_BAND_TRIALS,
    }),
  );
  const results = await runBlocks(plan, blocks);
  const passes = results.reduce((sum, result) => sum + result.passes, 0);
  const { wavelengthNm } = plan.channels[plan.shownChannel]!;
  const { bands, bandTrials } = bandsOf(results, wavelengthNm.length);
  return {
    yield: passes / trials,
    yield95: wilsonInterval(passes, trials),
    requirementYield: plan.goals.map(
      (_, place) => results.reduce((sum, { goalPasses }) => sum + goalPasses[place]!, 0) / trials,
    ),
    wavelengthNm,
    bands,
    bandTrials,
    sensitivity: sensitivities(plan),
  };
}

function bandsOf(
  results: readonly BlockResult[],
  points: number,
): Pick<ToleranceResult, 'bands' | 'bandTrials'> {
  const bandTrials = results.reduce((sum, { reflectance }) => sum + reflectance.length / points, 0);
  const column = new Float64Array(bandTrials);
  const bands = {
    '5': new Float64Array(points),
    '50': new Float64Array(points),
    '95': new Float64Array(points),
  };
  for (let i = 0; i < points; i++) {
    let trial = 0;
    for (const { reflectance } of results)
      for (let at = i; at < reflectance.length; at += points) column[trial++] = reflectance[at]!;
    bands['5'][i] = percentileInPlace(column, 5);
    bands['50'][i] = percentileInPlace(column, 50);
    bands['95'][i] = percentileInPlace(column, 95);
  }
  return { bands, bandTrials };
}
