import { InputError } from '../base/errors.ts';
import { type DesignProblem, FINAL_POINTS, MOST_LAYERS, searchProblem } from './design-problem.ts';
import { designWarnings } from './design-warnings.ts';
import { type DesignResult, FINISH, stackFrom } from './found-stack.ts';
import { Merit } from './merit.ts';
import { type RefineBounds, refineThickness } from './refine.ts';

/** A stack to begin with; its fixed layers and groups stay so. */
export interface GivenStack {
  readonly layers: readonly { readonly place: number; readonly thicknessNm: number }[];
  readonly fixed?: readonly boolean[];
  readonly groups?: readonly (number | undefined)[];
}

/** Evaluations of the merit that a refinement may take. */
const MOST_EVALUATIONS = 1000;

export interface RefineStackOptions {
  /** The time (`Date.now`, ms) at which it ends with the best it has, converged or not. */
  readonly untilMs?: number;
  /** Told before each evaluation what share of the evaluations allowed is behind. */
  readonly progress?: (fraction: number) => void;
}

/**
 * The same stack where a layer that is held holds its whole group at its thickness.
 * @throws InputError where two layers of a group are held at different thicknesses.
 */
function heldTogether({ layers, fixed = [], groups = [] }: GivenStack): GivenStack {
  const holder = new Map<number, number>();
  layers.forEach(({ thicknessNm }, place) => {
    const group = groups[place];
    if (group === undefined || !fixed[place]) return;
    const other = layers[holder.get(group) ?? place]!;
    if (other.thicknessNm !== thicknessNm)
      throw new InputError(
        `start[${place}].thicknessNm`,
        `the layer is fixed at ${thicknessNm} nm, but another of its group ${group} at ${other.thicknessNm} nm`,
      );
    holder.set(group, place);
  });
  const holderOf = (place: number) => holder.get(groups[place] ?? Number.NaN);
  return {
    layers: layers.map((layer, place) => ({
      ...layer,
      thicknessNm: layers[holderOf(place) ?? place]!.thicknessNm,
    })),
    fixed: layers.map((_, place) => fixed[place] === true || holderOf(place) !== undefined),
    groups,
  };
}

/** Changes the thicknesses of a given stack only. @throws InputError as `searchProblem`, or without layers. */
export function refineStack(
  problem: DesignProblem,
  given: GivenStack,
  { untilMs = Number.POSITIVE_INFINITY, progress }: RefineStackOptions = {},
): DesignResult {
  const start = heldTogether(given);
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
  let asked = 0;
  let wasLate = false;
  const stop = () => {
    progress?.(Math.min(1, asked++ / MOST_EVALUATIONS));
    wasLate ||= Date.now() > untilMs;
    return wasLate;
  };
  const { thicknessNm } = refineThickness(new Merit(search.grid, materials), thickness, {
    bounds,
    sharpness: [8, ...FINISH],
    maxEvaluations: MOST_EVALUATIONS,
    relativeTolerance: 1e-10,
    stop,
  });
  const stack = stackFrom(problem, search.grid, { materials, thicknessNm });
  const warnings = designWarnings(problem, stack, 'by refining these layers');
  if (wasLate)
    warnings.push(
      'The time limit ended the refinement before it had settled; refining again goes on from here.',
    );
  return { stacks: [stack], starts: 1, warnings };
}
