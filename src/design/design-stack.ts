import { InputError } from '../base/errors.ts';
import {
  type DesignProblem,
  FINAL_POINTS,
  MOST_LAYERS,
  OBLIQUE_SEARCH_POINTS,
  SEARCH_POINTS,
  searchProblem,
  surfaceOf,
} from './design-problem.ts';
import { evaluateRequirements, type RequirementResult } from './evaluate.ts';
import { Merit } from './merit.ts';
import { LEAST_ALLOWED_LOSS } from './merit-grid.ts';
import { type RefineBounds, refineThickness } from './refine.ts';
import { describeRequirement } from './requirement.ts';
import { RobustMerit } from './robust-merit.ts';
import type { Draft } from './search/search-problem.ts';
import { type JobRunner, synthesize } from './search/synthesize.ts';
import { isLike, tidy } from './search/tidy.ts';
import { startingStacks } from './starting-stacks.ts';

import { runTrials } from './tolerance/run-trials.ts';
import { type LayerErrors, trialPlan } from './tolerance/trial-plan.ts';

/** A layer of a found stack: `place` is that of its material in the pool and then the other materials. */
export interface DesignLayer {
  readonly place: number;
  readonly material: string;
  readonly thicknessNm: number;
}

export interface FoundStack {
  readonly layers: readonly DesignLayer[];
  /**
   * Weighted mean of value over limit, excess counted ten times more; the lower the better, below 1 with margin. A mean
   * is that of 61 even readings here.
   */
  readonly merit: number;
  readonly achieved: readonly RequirementResult[];
  /** Share of virtual coatings with the errors given that meet everything; absent where none are given. */
  readonly yield?: number;
}

export interface DesignResult {
  /** Best first; the others differ from it and from one another. */
  readonly stacks: readonly FoundStack[];
  /** Local searches begun. */
  readonly starts: number;
  readonly warnings: readonly string[];
}

/** The powers of the power means at which a found stack is finished. */
const FINISH = [16, 64, 256];
/** Stacks that are finished on the fine grid, and those shown. */
const FINISHED = 12;
const SHOWN = 6;

/** A stack to begin with; its fixed layers and groups stay so. */
export interface GivenStack {
  readonly layers: readonly { readonly place: number; readonly thicknessNm: number }[];
  readonly fixed?: readonly boolean[];
  readonly groups?: readonly (number | undefined)[];
}

/** Changes the thicknesses of a given stack only. @throws InputError as `searchProblem`, or without layers. */
export function refineStack(
  problem: DesignProblem,
  start: GivenStack,
  stop?: (evaluations: number, value: number) => boolean,
): DesignResult {
  if (start.layers.length === 0)
    throw new InputError('start', 'the list is empty; to refine takes the layers to begin with');
  const layered = {
    ...problem,
    maxLayers: Math.min(MOST_LAYERS, Math.max(problem.maxLayers, start.layers.length)),
  };
  const search = searchProblem(layered, FINAL_POINTS);
  const materials = start.layers.map(({ place }) => place);
  const thickness = Float64Array.from(start.layers, ({ thicknessNm }) => thicknessNm);
  const bounds: RefineBounds = {
    minNm: problem.minNm,
    maxNm: Math.max(search.maxNm, ...thickness),
    ...(start.fixed === undefined ? {} : { fixed: start.fixed }),
    ...(start.groups === undefined ? {} : { groups: start.groups }),
    ...(problem.maxTotalNm === undefined ? {} : { maxTotalNm: problem.maxTotalNm }),
  };
  const { thicknessNm } = refineThickness(new Merit(search.grid, materials), thickness, {
    bounds,
    sharpness: [8, ...FINISH],
    maxEvaluations: 1000,
    relativeTolerance: 1e-10,
    ...(stop === undefined ? {} : { stop }),
  });
  const stack = stackFrom(problem, search.grid, { materials, thicknessNm });
  return { stacks: [stack], starts: 1, warnings: designWarnings(problem, stack) };
}

export interface SearchOptions {
  readonly seed: number;
  /** See `SynthesisOptions.work`. */
  readonly work: number;
  readonly runJobs: JobRunner;
  readonly start?: GivenStack;
  /** Errors of manufacture: stacks then carry their yield. */
  readonly errors?: LayerErrors;
  /** Whether the best is the one of the highest yield, its thicknesses refined for it, rather than the lowest merit. */
  readonly wantsRobust?: boolean;
  readonly isLate?: () => boolean;
  readonly progress?: (fraction: number) => void;
}

/**
 * Looks for the best stacks of the materials at hand: closed forms, random starts grown by inserted layers, and hops from
 * the best, all settled by damped least squares.
 * @throws InputError as `searchProblem`.
 */
export async function searchStacks(problem: DesignProblem, options: SearchOptions): Promise<DesignResult> {
  const search = searchProblem(problem, searchPoints(problem));
  const starts = [...closedFormDrafts(problem), ...givenDraft(problem, options.start)].map((sketch) =>
    settleRoughly(search, sketch),
  );
  const result = await synthesize(search, { ...options, starts });
  const fine = searchProblem(problem, FINAL_POINTS);
  const finished = [...result.drafts.slice(0, FINISHED), ...result.fewerLayers.slice(0, 2)]
    .map((draft) => finish(fine, draft))
    .filter((draft) => isWithinTotal(problem, draft.thicknessNm))
    .sort((one, other) => one.merit - other.merit);
  if (finished.length === 0)
    throw new InputError('maxTotalNm', `no stack within ${problem.maxTotalNm} nm was found`);
  let stacks = distinct(finished).map((draft) => stackFrom(problem, fine.grid, draft));
  const { errors, wantsRobust = false, seed } = options;
  if (errors !== undefined) {
    const robust = wantsRobust
      ? stacks.map((stack) => stackFrom(problem, fine.grid, refineForYield(fine, stack, errors, seed)))
      : [];
    stacks = [...stacks, ...robust]
      .filter(({ layers }) =>
        isWithinTotal(
          problem,
          Float64Array.from(layers, (layer) => layer.thicknessNm),
        ),
      )
      .map((stack) => ({ ...stack, yield: yieldOf(problem, stack, errors, seed) }));
    if (wantsRobust) {
      stacks.sort((one, other) => other.yield! - one.yield! || one.merit - other.merit);
      stacks = distinct(stacks.map(draftOf)).map((draft) => stacks.find((stack) => isOf(stack, draft))!);
    }
  }
  stacks = stacks.slice(0, SHOWN);
  const warnings = designWarnings(problem, stacks[0]!);
  if (result.wasLate)
    warnings.push(
      'The time limit ended the search before its planned work was done, so another run may find another stack.',
    );
  return { stacks, starts: result.starts, warnings };
}

function draftOf({ layers, merit }: FoundStack): Draft {
  return {
    materials: layers.map(({ place }) => place),
    thicknessNm: Float64Array.from(layers, ({ thicknessNm }) => thicknessNm),
    merit,
  };
}

function isOf({ layers }: FoundStack, { thicknessNm, materials }: Draft): boolean {
  return (
    layers.length === materials.length &&
    layers.every((layer, i) => layer.place === materials[i] && layer.thicknessNm === thicknessNm[i])
  );
}

function refineForYield(fine: Search, stack: FoundStack, errors: LayerErrors, seed: number): Draft {
  const draft = draftOf(stack);
  const merit = new RobustMerit(new Merit(fine.grid, draft.materials), draft.materials.length, errors, seed);
  const { thicknessNm } = refineThickness(merit, draft.thicknessNm, {
    bounds: fine,
    sharpness: [16],
    maxEvaluations: 60,
    relativeTolerance: 1e-4,
  });
  return { ...draft, thicknessNm };
}

/** Virtual coatings that tell stacks apart by their yield. */
const YIELD_TRIALS = 1000;

function yieldOf(problem: DesignProblem, stack: FoundStack, errors: LayerErrors, seed: number): number {
  const plan = trialPlan(surfaceOf(problem, draftOf(stack)), problem.requirements, errors, seed);
  return runTrials(plan, { block: 0, trials: YIELD_TRIALS, keepsSpectra: false }).passes / YIELD_TRIALS;
}

/** Many angles and polarizations see much the same of a stack, so each then has fewer points in the search. */
function searchPoints({ requirements }: DesignProblem): number {
  const spectra = requirements.flatMap(({ incidenceDeg, polarization }) =>
    incidenceDeg.map((angle) => (angle > 0 && polarization === 'mean' ? 2 : 1)),
  );
  return spectra.reduce((sum, count) => sum + count, 0) > 2 ? OBLIQUE_SEARCH_POINTS : SEARCH_POINTS;
}

function isWithinTotal({ maxTotalNm }: DesignProblem, thicknessNm: Float64Array): boolean {
  return maxTotalNm === undefined || thicknessNm.reduce((sum, nm) => sum + nm, 0) <= maxTotalNm;
}

type Search = ReturnType<typeof searchProblem>;
type Sketch = Pick<Draft, 'materials' | 'thicknessNm'>;

function closedFormDrafts(problem: DesignProblem): Sketch[] {
  const search = searchProblem(problem, 9);
  const ids = problem.pool.map(({ id }) => id);
  return startingStacks(problem.pool, {
    incidentIndex: search.incidentIndex,
    substrateIndex: search.substrateIndex,
    wavelengthNm: search.referenceNm,
  })
    .map(({ layers }) => ({
      materials: layers.map(({ material }) => ids.indexOf(material)),
      thicknessNm: Float64Array.from(layers, ({ thicknessNm }) => thicknessNm),
    }))
    .filter(
      ({ materials }) =>
        materials.length <= search.maxLayers && new Set(materials).size <= search.maxMaterials,
    );
}

function givenDraft(problem: DesignProblem, start: GivenStack | undefined): Sketch[] {
  if (start === undefined) return [];
  const sketch = tidy({
    materials: start.layers.map(({ place }) => place),
    thicknessNm: Float64Array.from(start.layers, ({ thicknessNm }) => thicknessNm),
  });
  return sketch.materials.length > 0 && sketch.materials.length <= problem.maxLayers ? [sketch] : [];
}

function settleRoughly(search: Search, { materials, thicknessNm }: Sketch): Draft {
  const refined = refineThickness(new Merit(search.grid, materials), thicknessNm, {
    bounds: search,
    sharpness: [8, 32],
    maxEvaluations: 120,
    relativeTolerance: 1e-6,
  });
  return { materials, thicknessNm: refined.thicknessNm, merit: refined.merit };
}

function finish(fine: Search, { materials, thicknessNm }: Draft): Draft {
  const refined = refineThickness(new Merit(fine.grid, materials), thicknessNm, {
    bounds: fine,
    sharpness: FINISH,
    maxEvaluations: 600,
    relativeTolerance: 1e-9,
  });
  return { materials, thicknessNm: refined.thicknessNm, merit: refined.merit };
}

/** A stack with its merit on a grid and how it stands. */
export function stackFrom(problem: DesignProblem, grid: Search['grid'], sketch: Sketch): FoundStack {
  const palette = [...problem.pool, ...(problem.others ?? [])];
  return {
    layers: sketch.materials.map((place, layer) => ({
      place,
      material: palette[place]!.id,
      thicknessNm: sketch.thicknessNm[layer]!,
    })),
    merit: new Merit(grid, sketch.materials).exact(sketch.thicknessNm),
    achieved: evaluateRequirements(problem.requirements, surfaceOf(problem, sketch)),
  };
}

/** Two stacks are the same to a coater where layers thinner than this are all that tells them apart. */
const NEGLIGIBLE_NM = 8;

/** Leaves out stacks whose thicker layers are those of a better one, in the same order and within 5 %. */
function distinct(drafts: readonly Draft[]): Draft[] {
  const kept: Draft[] = [];
  for (const draft of drafts)
    if (!kept.some((other) => isLike(draft, other, NEGLIGIBLE_NM))) kept.push(draft);
  return kept;
}

/** What the user should know about goals that can't be met or materials that can't make more than one layer. */
function designWarnings(problem: DesignProblem, best: FoundStack): string[] {
  const warnings: string[] = [];
  problem.requirements.forEach((requirement, place) => {
    const { limit, sense } = requirement;
    const line = describeRequirement(requirement);
    const allowed = sense === 'below' ? limit / 100 : 1 - limit / 100;
    const result = best.achieved[place]!;
    if (allowed === 0)
      warnings.push(
        `requirements[${place}] "${line}" leaves nothing, which no real stack meets; the search went as far as it could, its merit measured against ${100 * LEAST_ALLOWED_LOSS} %.`,
      );
    else if (!result.met)
      warnings.push(
        `requirements[${place}] "${line}" is missed: ${formatPercent(result.value)} % at ${result.worstIncidenceDeg}° is the best found with these materials and at most ${problem.maxLayers} layers.`,
      );
  });
  if (problem.pool.length === 1 && (problem.others ?? []).length === 0)
    warnings.push('The pool has one material, so only a single layer can be made.');
  return warnings;
}

function formatPercent(value: number): string {
  return String(Number(value.toPrecision(4)));
}
