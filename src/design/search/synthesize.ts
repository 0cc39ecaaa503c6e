import { Findings } from './findings.ts';
import { looksLike } from './profile-distance.ts';
import type { SearchFindings, SearchJob } from './search-job.ts';
import type { Draft, SearchProblem } from './search-problem.ts';
import { materialCount } from './tidy.ts';

/** Runs jobs, on one thread or many, and gives their findings in the order of the jobs. */
export type JobRunner = (problem: SearchProblem, jobs: readonly SearchJob[]) => Promise<SearchFindings[]>;

export interface SynthesisOptions {
  readonly seed: number;
  /** Work to spend, in evaluations × layers × points: the same on every machine. */
  readonly work: number;
  readonly runJobs: JobRunner;
  /** Stacks to begin with, besides the random ones. */
  readonly starts?: readonly Draft[];
  /** The time (`Date.now`, ms) at which the search ends with the best it has, though its work isn't done. */
  readonly untilMs?: number;
  readonly progress?: (fraction: number) => void;
}

export interface Synthesis {
  /** Best first; no two share their sequence of materials. */
  readonly drafts: readonly Draft[];
  /** The best found of each smaller number of layers, the most first. */
  readonly fewerLayers: readonly Draft[];
  /** The best found of each smaller number of materials, the most first. */
  readonly fewerMaterials: readonly Draft[];
  /** Local searches begun. */
  readonly starts: number;
  readonly work: number;
  /** Whether the time cut it short. */
  readonly wasLate: boolean;
}

const MOST_ROUNDS = 40;
/** Work of a job for each layer allowed: enough for a few hundred local searches. */
const ALLOWANCE_A_LAYER = 400_000;
/** A fixed number, so that the answer doesn't depend on how many threads there are. */
const JOBS_A_ROUND = 8;
/** Jobs of a round that begin anew; the others go on from the elites. */
const FRESH_JOBS = 2;
/** After this share of the rounds nothing begins anew: what began so late would not be ripe at the end. */
const FRESH_UNTIL = 0.6;
const ELITES = 12;
/** The search ends early where this share of all rounds, in a row and at least 4, brought less than IDLE_GAIN. */
const IDLE_SHARE = 0.6;
const IDLE_GAIN = 1e-3;

/**
 * Looks for the best stacks: rounds of independent jobs, some of which begin from random stacks that grow by
 * inserted layers while the others hop on from the best of the rounds before. Everything random hangs on the seed
 * and a job's place,
 * and the amount of work is counted rather than timed, so the same request gives the same answer anywhere.
 */
export async function synthesize(problem: SearchProblem, options: SynthesisOptions): Promise<Synthesis> {
  const found = new Findings();
  const areAlike = (one: Draft, other: Draft) => looksLike(problem, one, other);
  for (const draft of options.starts ?? []) found.add(draft);
  const roundWork = JOBS_A_ROUND * ALLOWANCE_A_LAYER * problem.maxLayers;
  const rounds = Math.min(MOST_ROUNDS, Math.max(2, Math.round(options.work / roundWork)));
  const allowance = options.work / (rounds * JOBS_A_ROUND);
  const mostIdle = Math.max(4, Math.ceil(IDLE_SHARE * rounds));
  let starts = options.starts?.length ?? 0;
  let work = 0;
  let idle = 0;
  let wasLate = false;
  for (let round = 0; round < rounds && idle < mostIdle; round++) {
    options.progress?.(round / rounds);
    const elites = found.unlike(ELITES, areAlike);
    const before = elites[0]?.merit ?? Number.POSITIVE_INFINITY;
    const freshJobs = round < FRESH_UNTIL * rounds ? FRESH_JOBS : 0;
    const jobs = Array.from(
      { length: JOBS_A_ROUND },
      (_, place): SearchJob => ({
        seed: options.seed,
        index: round * JOBS_A_ROUND + place,
        allowance,
        elites: round === 0 || place < freshJobs ? [] : elites,
        untilMs: options.untilMs ?? Number.POSITIVE_INFINITY,
      }),
    );
    for (const findings of await options.runJobs(problem, jobs)) {
      for (const draft of findings.drafts) found.add(draft);
      starts += findings.starts;
      work += findings.work;
      wasLate ||= findings.wasLate;
    }
    const now = found.best(1)[0]!.merit;
    idle = now < before * (1 - IDLE_GAIN) ? 0 : idle + 1;
    if (wasLate) break;
  }
  options.progress?.(1);
  const drafts = found.best(ELITES);
  return {
    drafts,
    fewerLayers: found.bestOfFewer(drafts[0]!, ({ materials }) => materials.length),
    fewerMaterials: found.bestOfFewer(drafts[0]!, ({ materials }) => materialCount(materials)),
    starts,
    work,
    wasLate,
  };
}
