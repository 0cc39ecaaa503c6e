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
