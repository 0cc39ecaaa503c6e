import { InputError } from '../base/errors.ts';
import { Random } from '../math/random.ts';
import { type DesignProblem, MOST_LAYERS, searchProblem, surfaceOf } from './design-problem.ts';
import { evaluateRequirements } from './evaluate.ts';
import { type FoundStack, stackFrom } from './found-stack.ts';
import { Merit } from './merit.ts';
import { refineThickness } from './refine.ts';
import type { GivenStack } from './refine-stack.ts';
import { describeRequirement } from './requirement.ts';
import type { SearchProblem } from './search/search-problem.ts';

/** What a run has become and what may still be done about it. */
export interface RescueOptions {
  /** Thicknesses in nm that were really deposited, from the substrate on; 0 to all layers of the plan. */
  readonly deposited: readonly number[];
  /** Whether the last of them may still grow. */
  readonly canTopUp: boolean;
  /** Whether layers still to come may be left out, or one more put in. */
  readonly mayRestructure: boolean;
  readonly seed: number;
  readonly pause?: () => Promise<void> | undefined;
}

export interface RescueResult extends FoundStack {
  /** For each layer the planned layer that it was, or -1 for a new one. */
  readonly planned: readonly number[];
  /** Change of each layer's thickness against the plan, in nm; a new layer's own thickness. */
  readonly changeNm: readonly number[];
  /** How the run would end with the layers still to come as planned. */
  readonly untouched: FoundStack;
  /** "go-on" where every requirement will be met that the plan met, else "strip". */
  readonly verdict: 'go-on' | 'strip';
  readonly reason: string;
}

/** Seeded starts besides the plan's own thicknesses, for each sequence of layers. */
const STARTS = 12;

interface Route {
  readonly materials: readonly number[];
  readonly planned: readonly number[];
  readonly thicknessNm: Float64Array;
}

/**
 * Re-optimises the layers still to come after some were deposited wrong.
 * @throws InputError where more layers were deposited than planned, or as `searchProblem`.
 */
export async function rescueStack(
  problem: DesignProblem,
  plan: GivenStack,
  options: RescueOptions,
): Promise<RescueResult> {
  const { deposited, canTopUp } = options;
  if (deposited.length > plan.layers.length)
    throw new InputError(
      'deposited',
      `${deposited.length} layers were deposited, but the plan has ${plan.layers.length}`,
    );
  const roomy = {
    ...problem,
    maxLayers: Math.min(MOST_LAYERS, Math.max(problem.maxLayers, plan.layers.length)),
  };
  const search = searchProblem(roomy, 61);
  const materials = plan.layers.map(({ place }) => place);
  const actual = Float64Array.from(plan.layers, ({ thicknessNm }, layer) => deposited[layer] ?? thicknessNm);
  const asPlanned: Route = { materials, planned: materials.map((_, layer) => layer), thicknessNm: actual };
  const movesFrom = canTopUp ? Math.max(0, deposited.length - 1) : deposited.length;
  const routes = [asPlanned];
  if (options.mayRestructure) routes.push(...otherRoutes(search, asPlanned, deposited.length));
  let best: { route: Route; thicknessNm: Float64Array; merit: number } | undefined;
  for (const [number, route] of routes.entries()) {
    const random = new Random(options.seed).stream(number);
    const merit = new Merit(search.grid, route.materials);
    for (let attempt = 0; attempt <= (route === asPlanned ? STARTS : 2); attempt++) {
      await options.pause?.();
      const start = route.thicknessNm.map((nm, layer) =>
        layer < movesFrom || attempt === 0 ? nm : nm * Math.exp(0.4 * random.normal()),
      );
      const leastNm = route.materials.map((_, layer) =>
        layer < deposited.length ? deposited[layer] : undefined,
      );
      const refined = refineThickness(merit, start, {
        bounds: {
          minNm: search.minNm,
          maxNm: Math.max(search.maxNm, ...route.thicknessNm),
          leastNm,
          fixed: route.materials.map((_, layer) => layer < movesFrom),
          ...(problem.maxTotalNm === undefined ? {} : { maxTotalNm: problem.maxTotalNm }),
        },
        sharpness: [8, 64],
        maxEvaluations: 150,
        relativeTolerance: 1e-6,
      });
      // A changed sequence has to earn its trouble: 2 % of the merit.
      const merits = refined.merit * (route === asPlanned ? 1 : 1.02);
      if (best === undefined || merits < best.merit)
        best = { route, thicknessNm: refined.thicknessNm, merit: merits };
    }
  }
  const { route, thicknessNm } = best!;
  const stack = stackFrom(problem, search.grid, { materials: route.materials, thicknessNm });
  const untouched = stackFrom(problem, search.grid, { materials, thicknessNm: actual });
  return {
    ...stack,
    planned: route.planned,
    changeNm: route.planned.map((from, layer) =>
      from < 0 ? thicknessNm[layer]! : thicknessNm[layer]! - plan.layers[from]!.thicknessNm,
    ),
    untouched,
    ...verdictOn(problem, plan, stack),
  };
}

/** The plan with one layer still to come left out, or with one new layer among them. */
function otherRoutes(search: SearchProblem, plan: Route, from: number): Route[] {
  const routes: Route[] = [];
  const fits = ({ materials }: Route) =>
    materials.length <= search.maxLayers &&
    new Set(materials).size <= search.maxMaterials &&
    materials.every((material, layer) => layer === 0 || material !== materials[layer - 1]);
  for (let layer = from; layer < plan.materials.length; layer++)
    routes.push({
      materials: plan.materials.toSpliced(layer, 1),
      planned: plan.planned.toSpliced(layer, 1),
      thicknessNm: Float64Array.from([...plan.thicknessNm].toSpliced(layer, 1)),
    });
  for (let place = from; place <= plan.materials.length; place++)
    for (let material = 0; material < search.poolSize; material++)
      routes.push({
        materials: plan.materials.toSpliced(place, 0, material),
        planned: plan.planned.toSpliced(place, 0, -1),
        thicknessNm: Float64Array.from([...plan.thicknessNm].toSpliced(place, 0, 2 * search.minNm)),
      });
  return routes.filter((route) => route.materials.length > 0 && fits(route));
}

function verdictOn(
  problem: DesignProblem,
  plan: GivenStack,
  stack: FoundStack,
): Pick<RescueResult, 'verdict' | 'reason'> {
  const planned = evaluateRequirements(
    problem.requirements,
    surfaceOf(problem, {
      materials: plan.layers.map(({ place }) => place),
      thicknessNm: Float64Array.from(plan.layers, ({ thicknessNm }) => thicknessNm),
    }),
  );
  const lost = problem.requirements.flatMap((requirement, place) => {
    const result = stack.achieved[place]!;
    return planned[place]!.met && !result.met
      ? [`"${describeRequirement(requirement)}" would end at ${Number(result.value.toPrecision(3))} %`]
      : [];
  });
  if (lost.length > 0)
    return {
      verdict: 'strip',
      reason: `Strip and start again: even with the best thicknesses still to come, ${lost.join(' and ')}.`,
    };
  const missed = stack.achieved.filter(({ met }) => !met).length;
  return {
    verdict: 'go-on',
    reason:
      missed === 0
        ? 'Go on with the new thicknesses: every requirement will be met.'
        : `Go on with the new thicknesses: nothing is lost that the plan had met, though it too misses ${missed} of ${stack.achieved.length} requirements.`,
  };
}
