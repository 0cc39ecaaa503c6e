import { type CurvedObjective, type DampedOptions, minimizeDamped } from '../math/least-squares.ts';
import type { ThicknessMerit } from './merit.ts';

/** Which layers move, how far, and with whom. All lists go from the substrate on. */
export interface RefineBounds {
  readonly minNm: number;
  readonly maxNm: number;
  /** True for a layer that keeps its thickness. */
  readonly fixed?: readonly boolean[];
  /** A layer's own least thickness in nm where it differs from `minNm`; undefined: `minNm`. */
  readonly leastNm?: readonly (number | undefined)[];
  /** Layers with the same number stay equally thick; undefined for a layer on its own. */
  readonly groups?: readonly (number | undefined)[];
  /** The whole stack's thickness must not exceed this. */
  readonly maxTotalNm?: number;
}

export interface RefineOptions {
  readonly bounds: RefineBounds;
  /** The powers of the power means, gone through one after the other. */
  readonly sharpness?: readonly number[];
  readonly maxEvaluations?: number;
  readonly relativeTolerance?: number;
  readonly stop?: DampedOptions['stop'];
}

export interface Refined {
  readonly thicknessNm: Float64Array;
  /** The merit itself, not its smooth version. */
  readonly merit: number;
  readonly evaluations: number;
  readonly converged: boolean;
}

/** Moves the thicknesses to a near minimum of the merit by damped least squares within bounds. */
export function refineThickness(merit: ThicknessMerit, start: Float64Array, options: RefineOptions): Refined {
  const { bounds, sharpness = [8, 32, 96], maxEvaluations = 300, relativeTolerance = 1e-8 } = options;
  const variables = variablesOf(start, bounds);
  const layers = start.length;
  const { size, variableOf } = variables;
  const thickness = start.slice();
  const spread = (x: Float64Array) => {
    for (let layer = 0; layer < layers; layer++) {
      const place = variableOf[layer]!;
      if (place >= 0) thickness[layer] = x[place]!;
    }
  };
  const x = new Float64Array(size);
  for (let layer = 0; layer < layers; layer++)
    if (variableOf[layer]! >= 0) x[variableOf[layer]!] = start[layer]!;
  let evaluations = 0;
  let converged = true;
  if (size > 0) {
    const layerGradient = new Float64Array(layers);
    const layerCurvature = new Float64Array(layers * layers);
    const stiffness = 1e6 * Math.max(1, merit.exact(start));
    let point: Float64Array = x;
    for (const power of merit.isSharpened ? sharpness : sharpness.slice(0, 1)) {
      const objective: CurvedObjective = (at, gradient, curvature) => {
        spread(at);
        let value = merit.smoothWithDerivatives(thickness, power, layerGradient, layerCurvature);
        value += addTotalLimit(thickness, bounds.maxTotalNm, stiffness, layerGradient, layerCurvature);
        gather(layerGradient, layerCurvature, variableOf, gradient, curvature);
        return value;
      };
      const result = minimizeDamped(objective, point, {
        lower: lowerBounds(bounds, variables),
        upper: new Float64Array(size).fill(bounds.maxNm),
        maxEvaluations: maxEvaluations - evaluations,
        relativeTolerance,
        stepTolerance: 1e-6,
        ...(options.stop === undefined ? {} : { stop: options.stop }),
      });
      point = result.x;
      evaluations += result.evaluations;
      converged = result.converged;
      if (evaluations >= maxEvaluations) break;
    }
    spread(point);
  }
  return { thicknessNm: thickness, merit: merit.exact(thickness), evaluations, converged };
}

/** For each layer the place of its variable, or -1 where it is fixed. */
function variablesOf(
  start: Float64Array,
  { fixed, groups }: RefineBounds,
): { size: number; variableOf: Int32Array } {
  const variableOf = new Int32Array(start.length).fill(-1);
  const placeOfGroup = new Map<number, number>();
  let size = 0;
  for (let layer = 0; layer < start.length; layer++) {
    if (fixed?.[layer]) continue;
    const group = groups?.[layer];
    const known = group === undefined ? undefined : placeOfGroup.get(group);
    if (known !== undefined) {
      variableOf[layer] = known;
      continue;
    }
    if (group !== undefined) placeOfGroup.set(group, size);
    variableOf[layer] = size++;
  }
  return { size, variableOf };
}

function lowerBounds(
  { minNm, leastNm }: RefineBounds,
  { size, variableOf }: { size: number; variableOf: Int32Array },
): Float64Array {
  const lower = new Float64Array(size).fill(minNm);
  leastNm?.forEach((least, layer) => {
    const place = variableOf[layer]!;
    if (place >= 0 && least !== undefined) lower[place] = least;
  });
  return lower;
}

function gather(
  layerGradient: Float64Array,
  layerCurvature: Float64Array,
  variableOf: Int32Array,
  gradient: Float64Array,
  curvature: Float64Array,
): void {
  const layers = variableOf.length;
  const size = gradient.length;
  gradient.fill(0);
  curvature.fill(0);
  for (let i = 0; i < layers; i++) {
    const row = variableOf[i]!;
    if (row < 0) continue;
    gradient[row]! += layerGradient[i]!;
    for (let j = 0; j < layers; j++) {
      const column = variableOf[j]!;
      if (column >= 0) curvature[row * size + column]! += layerCurvature[i * layers + j]!;
    }
  }
}

/** Adds a steep parabola beyond 99.5 % of the total allowed. */
function addTotalLimit(
  thickness: Float64Array,
  maxTotalNm: number | undefined,
  stiffness: number,
  gradient: Float64Array,
  curvature: Float64Array,
): number {
  if (maxTotalNm === undefined) return 0;
  const total = thickness.reduce((sum, value) => sum + value, 0);
  const over = total / maxTotalNm - 0.995;
  if (over <= 0) return 0;
  for (let i = 0; i < gradient.length; i++) gradient[i]! += (stiffness * over) / maxTotalNm;
  for (let i = 0; i < curvature.length; i++) curvature[i]! += stiffness / maxTotalNm ** 2;
  return (stiffness * over * over) / 2;
}
