import type { RequirementResult } from '../../../design/evaluate.ts';
import type { AlongLens, AtAngle } from '../../../design/off-axis.ts';
import type { Requirement } from '../../../design/requirement.ts';
import type { Bench } from '../../bench.ts';
import type { BenchState } from '../../bench-state.ts';
import { startWorker } from '../../compute-workers.ts';
import { sentenceOf, TaskRun } from '../../task-run.ts';
import { shownSide, shownSurface, shownSurfacePlan } from '../sides-shown.ts';
import { type Candidate, candidatesFrom } from './candidate.ts';
import { closedFormStacks, type FormChoice } from './closed-form-stacks.ts';
import { setThicknesses } from './layer-edits.ts';
import {
  type ErrorWishes,
  refineRequest,
  type SearchWishes,
  searchRequest,
  toleranceRequest,
} from './task-requests.ts';

/** What comes first among found stacks. */
export type Goal = 'lowest' | 'robust';

interface AnsweredStack {
  readonly layers: readonly { readonly material: string; readonly thicknessNm: number }[];
  readonly merit: number;
}

interface DesignAnswer extends AnsweredStack {
  readonly alternatives: readonly AnsweredStack[];
  readonly starts: number;
  readonly warnings: readonly string[];
}

/** What the task "tolerance" answers. */
export interface ToleranceAnswer {
  readonly yield: number;
  readonly yield95: readonly [number, number];
  readonly requirementYield: readonly number[];
  readonly percentiles: {
    readonly wavelengthNm: ArrayLike<number>;
    readonly R: Readonly<Record<'5' | '50' | '95', ArrayLike<number>>>;
  };
  readonly sensitivity: readonly number[];
  readonly warnings: readonly string[];
}

/** What the task "offaxis" answers. */
export interface OffAxisAnswer {
  readonly overAngle: readonly AtAngle[];
  readonly alongLens?: readonly AlongLens[];
  readonly inCone?: readonly RequirementResult[];
  readonly warnings: readonly string[];
}

/** Stacks to compare, with what is known of their yields. */
export interface FoundStacks {
  readonly how: string;
  readonly candidates: readonly Candidate[];
  readonly yields: ReadonlyMap<Candidate, ToleranceAnswer>;
  readonly warnings: readonly string[];
  /** What they were held against. */
  readonly requirements: readonly Requirement[];
}

/**
 * What the Stack station asks of workers, and what came of it. It outlives the station's element, so that results wait
 * while the reader looks at another station.
 */
export class StackDesk {
  wishes: Omit<SearchWishes, 'pool' | 'goal'> = {
    maxLayers: 6,
    minThicknessNm: 8,
    maxTotalNm: 5000,
    seed: 1,
  };
  pool: ReadonlySet<string> | undefined;
  goal: Goal = 'lowest';
  forms: FormChoice = 'each';
  errors: ErrorWishes = { relativePercent: 2, absoluteNm: 0, indexPercent: 0, trials: 1000, seed: 1 };
  coneHalfAngleDeg = 10;
  followsTolerance = false;
  found: FoundStacks | undefined;
  note = '';
  readonly search = new TaskRun<DesignAnswer>('design', startWorker, () => this.changed());
  readonly yields = new TaskRun<ToleranceAnswer>('tolerance', startWorker, () => this.changed());
  readonly tolerance = new TaskRun<ToleranceAnswer>('tolerance', startWorker, () => this.changed());
  readonly offAxis = new TaskRun<OffAxisAnswer>('offaxis', startWorker, () => this.changed());
  readonly #listeners = new Set<() => void>();
  #shown = '';
  #asFound: readonly Candidate[] = [];

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  changed(): void {
    for (const listener of this.#listeners) listener();
  }

  /** Forgets results where another batch or another side is shown than they were made for. */
  keepFor(state: BenchState): void {
    const shown = `${state.batch.id} ${shownSide(state)}`;
    if (shown === this.#shown) return;
    this.#shown = shown;
    this.found = undefined;
    this.pool = undefined;
    this.note = '';
    for (const run of [this.search, this.yields, this.tolerance, this.offAxis]) run.forget();
  }

  /** Stacks of closed forms, at once. */
  suggest(state: BenchState, pool: readonly string[]): void {
    const plan = shownSurfacePlan(state);
    if (plan === undefined) return;
    this.search.cancel();
    try {
      const { batch } = state;
      const reference = plan.referenceWavelengthNm;
      const { candidates, remarks } = closedFormStacks(batch, shownSide(state), pool, reference, this.forms);
      this.note = '';
      void this.#compare(state, 'closed forms', candidates, remarks);
    } catch (error) {
      this.note = sentenceOf(error);
      this.changed();
    }
  }

  /** Searches in a worker, then asks for the yields of what it found. */
  async find(state: BenchState, pool: readonly string[]): Promise<void> {
    const { batch } = state;
    const side = shownSide(state);
    this.yields.cancel();
    this.found = undefined;
    this.note = '';
    const answer = await this.search.ask(
      searchRequest(batch, shownSurface(state), { ...this.wishes, goal: this.goal, pool }, this.errors),
    );
    if (answer === undefined) return;
    const stacks = [answer, ...answer.alternatives];
    const how = `${answer.starts} local searches`;
    await this.#compare(state, how, candidatesFrom(batch, side, stacks), answer.warnings);
  }

  /** Puts what comes first by the present goal first. */
  sort(): void {
    if (this.found !== undefined) {
      const candidates = this.goal === 'robust' ? mostRobustFirst(this.found) : this.#asFound;
      this.found = { ...this.found, candidates };
    }
    this.changed();
  }

  /** Refines the present thicknesses in a worker and makes one edit of it. */
  async refine(bench: Bench): Promise<void> {
    const { state } = bench;
    const surface = shownSurface(state);
    this.note = '';
    const answer = await this.search.ask(refineRequest(state.batch, surface, this.wishes.minThicknessNm));
    if (answer === undefined) return;
    if (shownSurface(bench.state).layers !== surface.layers)
      this.note = 'The layers were changed meanwhile, so the refined thicknesses were not taken.';
    else {
      const thicknessesNm = answer.layers.map(({ thicknessNm }) => thicknessNm);
      bench.edit(setThicknesses(shownSide(state), thicknessesNm));
      this.note = ['Thicknesses refined.', ...answer.warnings].join(' ');
    }
    this.changed();
  }

  async #compare(
    state: BenchState,
    how: string,
    candidates: readonly Candidate[],
    warnings: readonly string[],
  ): Promise<void> {
    const yields = new Map<Candidate, ToleranceAnswer>();
    this.#asFound = candidates;
    const { requirements } = shownSurface(state);
    this.found = { how, candidates, yields, warnings, requirements };
    this.changed();
    if (requirements.length === 0) return;
    for (const candidate of candidates) {
      const request = toleranceRequest(state.batch, shownSurface(state), candidate.layers, this.errors);
      const answer = await this.yields.ask(request);
      if (answer === undefined || this.found === undefined || this.#asFound !== candidates) return;
      yields.set(candidate, answer);
      this.found = { ...this.found, yields: new Map(yields) };
      this.sort();
    }
  }
}

/** The highest yield first; those whose yield is not known yet come last, in their old order. */
export function mostRobustFirst({ candidates, yields }: FoundStacks): Candidate[] {
  return [...candidates].sort(
    (one, other) => (yields.get(other)?.yield ?? -1) - (yields.get(one)?.yield ?? -1),
  );
}

const desks = new WeakMap<Bench, StackDesk>();

/** The desk that belongs to a bench. */
export function stackDeskOf(bench: Bench): StackDesk {
  const desk = desks.get(bench) ?? new StackDesk();
  desks.set(bench, desk);
  return desk;
}
