import { Random } from '../../math/random.ts';
import { Findings } from './findings.ts';
import { helpfulInsertions } from './helpful-insertions.ts';
import {
  type Effort,
  prune,
  type RoughDraft,
  roughlySettle,
  roughMerit,
  settle,
  WorkMeter,
} from './local-search.ts';
import { isWithin, mutate, randomSketch } from './moves.ts';
import type { Draft, SearchProblem } from './search-problem.ts';
import { isLike, type Sketch, withInsertion } from './tidy.ts';

/** One independent piece of a search: what it finds depends on this alone, so it may run anywhere. */
export interface SearchJob {
  readonly seed: number;
  /** Its place among all jobs, which picks its stream of random numbers. */
  readonly index: number;
  /** Work that it may spend, in evaluations × layers × points. */
  readonly allowance: number;
  /** Stacks to go on from; none: it begins anew. */
  readonly elites: readonly Draft[];
  /** The time (`Date.now`, ms) at which it ends with what it has, though its work isn't done. */
  readonly untilMs: number;
}

export interface SearchFindings {
  readonly drafts: readonly Draft[];
  readonly starts: number;
  readonly work: number;
  /** Whether the time ended it. */
  readonly wasLate: boolean;
}

/** How many stacks a job hands back. */
const HANDED_BACK = 8;

/** Called between local searches; may wait (to let others run) or throw (to end the job). */
export type Pause = () => Promise<void> | undefined;

/** A roughly settled stack goes on where its smooth merit is below this many times the current one's. */
const PROMISING = 1.4;

const FULL: Effort = { sharpness: [8, 32], maxEvaluations: 60, relativeTolerance: 3e-5 };

/**
 * Searches from random starts that grow by inserted layers, or hops on from the elites: a random change, a local search,
 * and the new stack is kept where it is not worse than a threshold that sinks (threshold accepting,
 * G. Dueck & T. Scheuer, J. Comput. Phys. 90, 161, 1990).
 */
export async function runSearchJob(
  problem: SearchProblem,
  job: SearchJob,
  pause: Pause = () => undefined,
): Promise<SearchFindings> {
  const random = new Random(job.seed).stream(job.index);
  const meter = new WorkMeter(problem, job.allowance, job.untilMs);
  const found = new Findings();
  let starts = 0;
  let elites = job.elites;
  if (elites.length === 0) {
    const fresh = await freshStarts(problem, random, meter, found, pause);
    starts += fresh.starts;
    elites = fresh.drafts;
  }
  while (!meter.isSpent) {
    let current = elites[random.integer(elites.length)]!;
    let rough = roughMerit(problem, current);
    const full = 12 + 4 * problem.maxLayers;
    for (let patience = full; patience > 0 && !meter.isSpent; patience--) {
      await pause();
      const mate = elites[random.integer(elites.length)]!;
      starts++;
      const quick = roughlySettle(problem, mutate(problem, current, mate, random), meter, rough);
      if (quick.rough > rough * PROMISING || fellBack(problem, current, rough, quick)) continue;
      const next = prune(problem, settle(problem, quick, FULL, meter), FULL, meter);
      found.add(next);
      const threshold = 0.05 * (patience / full) ** 2;
      const isBetter = next.merit < current.merit * (1 - 1e-4);
      if (isBetter) patience = Math.min(full, patience + 6);
      if (isBetter || next.merit < current.merit * (1 + threshold)) {
        current = next;
        rough = roughMerit(problem, current);
      }
    }
  }
  return { drafts: found.best(HANDED_BACK), starts, work: meter.spent, wasLate: meter.isLate };
}

/** Whether a changed stack has settled into the one that it came from, but for layers at the thinnest allowed. */
function fellBack(problem: SearchProblem, from: Draft, fromRough: number, to: RoughDraft): boolean {
  return to.rough > fromRough * (1 - 1e-3) && isLike(from, to, 1.05 * problem.minNm);
}

/** Share of the allowance that goes into random starts. */
const FRESH_SHARE = 0.5;

/** Many random stacks, roughly settled; the best of each handful fully, and grown by inserted layers where layers are left. */
async function freshStarts(
  problem: SearchProblem,
  random: Random,
  meter: WorkMeter,
  found: Findings,
  pause: Pause,
): Promise<{ drafts: readonly Draft[]; starts: number }> {
  let starts = 0;
  const fresh = new Findings();
  do {
    let best: RoughDraft | undefined;
    for (let attempt = 0; attempt < 25; attempt++) {
      await pause();
      const layers = random.uniform() < 0.7 ? problem.maxLayers : 1 + random.integer(problem.maxLayers);
      const draft = roughlySettle(problem, randomSketch(problem, layers, random), meter);
      starts++;
      if (best === undefined || draft.rough < best.rough) best = draft;
    }
    const settled = prune(problem, settle(problem, best!, FULL, meter), FULL, meter);
    const grown = grow(problem, settled, random, meter);
    found.add(grown);
    fresh.add(grown);
  } while (meter.spent < FRESH_SHARE * meter.allowance && !meter.isSpent);
  return { drafts: fresh.best(5), starts };
}

/** Inserts layers, each settled, as long as one helps and layers are left. */
function grow(problem: SearchProblem, from: Draft, random: Random, meter: WorkMeter): Draft {
  let best = from;
  const all = Array.from({ length: problem.poolSize }, (_, place) => place);
  while (best.materials.length < problem.maxLayers && !meter.isSpent) {
    const insertions = helpfulInsertions(problem, best, all, 8).filter((insertion) =>
      isWithin(
        problem,
        withInsertion(best, insertion.host, insertion.share, insertion.material, problem.minNm),
      ),
    );
    meter.book(best.materials.length * 6 * all.length, 1);
    let next: Draft | undefined;
    const tried = insertions.slice(0, 12);
    for (let attempt = 0; attempt < 3 && tried.length > 0; attempt++) {
      const insertion = tried.splice(Math.floor(tried.length * random.uniform() ** 2), 1)[0]!;
      const sketch: Sketch = withInsertion(
        best,
        insertion.host,
        insertion.share,
        insertion.material,
        problem.minNm * 2,
      );
      const draft = settle(problem, sketch, FULL, meter);
      if (draft.merit < (next ?? best).merit) next = draft;
    }
    if (next === undefined || next.merit > best.merit * (1 - 1e-3)) return best;
    best = prune(problem, next, FULL, meter);
  }
  return best;
}
