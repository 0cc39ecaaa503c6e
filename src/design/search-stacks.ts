import { InputError } from '../base/errors.ts';
import { counted } from '../base/format.ts';
import { fittingForms } from './closed-form-design.ts';
import {
  type DesignProblem,
  FINAL_POINTS,
  OBLIQUE_SEARCH_POINTS,
  SEARCH_POINTS,
  searchProblem,
} from './design-problem.ts';
import { designWarnings } from './design-warnings.ts';
import { type DesignResult, distinct, draftOf, FINISH, type FoundStack, stackFrom } from './found-stack.ts';
import { Merit } from './merit.ts';
import { refineThickness } from './refine.ts';
import type { GivenStack } from './refine-stack.ts';
import { refineForYield, yieldOf } from './robust-stack.ts';
import type { Draft } from './search/search-problem.ts';
import { type JobRunner, type Synthesis, synthesize } from './search/synthesize.ts';
import { tidy } from './search/tidy.ts';
import { meetsAll, plainestOfEquals, shortList } from './short-list.ts';
import type { LayerErrors } from './tolerance/trial-plan.ts';

/** Stacks that are finished on the fine grid, and those shown. */
const FINISHED = 12;
const SHOWN = 6;

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
  /** See `SynthesisOptions.untilMs`. */
  readonly untilMs?: number;
  readonly progress?: (fraction: number) => void;
}

/**
 * Looks for the best stacks of the materials at hand: closed forms, random starts grown by inserted layers, and hops from
 * the best, all settled by damped least squares.
 * @throws InputError as `searchProblem`.
 */
export async function searchStacks(problem: DesignProblem, options: SearchOptions): Promise<DesignResult> {
  const search = searchProblem(problem, searchPoints(problem));
  const forms = fittingForms(problem, search).map(({ sketch }) => sketch);
  const starts = [...forms, ...givenDraft(problem, options.start)].map((sketch) =>
    settleRoughly(search, sketch),
  );
  const result = await synthesize(search, { ...options, starts });
  const fine = searchProblem(problem, FINAL_POINTS);
  const finished = worthFinishing(problem, fine, result)
    .map((draft) => finish(fine, draft))
    .filter((draft) => isWithinTotal(problem, draft.thicknessNm))
    .sort((one, other) => one.merit - other.merit);
  if (finished.length === 0)
    throw new InputError('maxTotalNm', `no stack within ${problem.maxTotalNm} nm was found`);
  let stacks = plainestOfEquals(distinct(finished).map((draft) => stackFrom(problem, fine.grid, draft)));
  const { errors, wantsRobust = false, seed } = options;
  if (errors !== undefined) {
    const robust = wantsRobust
      ? shortList(stacks, FINISHED, fine).map((stack) =>
          stackFrom(problem, fine.grid, refineForYield(fine, stack, errors, seed)),
        )
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
  stacks = shortList(stacks, SHOWN, fine);
  const warnings = designWarnings(
    problem,
    stacks[0]!,
    `with these materials and at most ${counted(problem.maxLayers, 'layer')}`,
  );
  if (result.wasLate)
    warnings.push(
      'The time limit ended the search before its planned work was done, so another run may find another stack.',
    );
  return { stacks, starts: result.starts, warnings };
}

/** The best, and plainer ones: what takes fewer layers or fewer materials and may well do. */
function worthFinishing(
  problem: DesignProblem,
  { grid }: Search,
  { drafts, fewerLayers, fewerMaterials }: Synthesis,
): Draft[] {
  const fewest = fewerLayers.findLastIndex((draft) => meetsAll(stackFrom(problem, grid, draft)));
  const worth = [
    ...drafts.slice(0, FINISHED),
    ...fewerLayers.filter((_, place) => place < 2 || Math.abs(place - fewest) < 2),
    ...fewerMaterials.filter(({ materials }) => materials.length > 1),
  ];
  return [...new Set(worth)];
}

function isOf({ layers }: FoundStack, { thicknessNm, materials }: Draft): boolean {
  return (
    layers.length === materials.length &&
    layers.every((layer, i) => layer.place === materials[i] && layer.thicknessNm === thicknessNm[i])
  );
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
