import { InputError } from '../base/errors.ts';
import { solvePositiveDefinite } from './cholesky.ts';

/**
 * What is minimised: fills `gradient` and the symmetric, positive semidefinite `curvature` (row-major,
 * size × size; J^T J for a sum of squares over two) at `x` and returns the value. It must not keep its arguments.
 */
export type CurvedObjective = (x: Float64Array, gradient: Float64Array, curvature: Float64Array) => number;

/** How the search went. */
export interface DampedResult {
  readonly x: Float64Array;
  readonly value: number;
  readonly evaluations: number;
  /** Whether a tolerance ended it, and neither the allowance nor `stop`. */
  readonly converged: boolean;
}

export interface DampedOptions {
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  /** Most evaluations of the objective. */
  readonly maxEvaluations?: number;
  /** Ends where a step promises less than this share of the value. */
  readonly relativeTolerance?: number;
  /** Ends where no variable moves by more than this. */
  readonly stepTolerance?: number;
  /** Asked after every evaluation; true ends the search with the best so far. */
  readonly stop?: (evaluations: number, value: number) => boolean;
}

/**
 * Minimises by damped steps within bounds: (H + λ diag H) d = -g over the variables that are not held by a
 * bound, λ by the gain ratio (K. Levenberg 1944; D. W. Marquardt, J. SIAM 11, 431, 1963; the control of λ after
 * H. B. Nielsen, report IMM-REP-1999-05, DTU; bounds by projection, as D. P. Bertsekas, SIAM J. Control
 * Optim. 20, 221, 1982). `x` is the start and is not changed.
 * @throws InputError where start and bounds do not fit one another.
 */
export function minimizeDamped(
  objective: CurvedObjective,
  x: Float64Array,
  options: DampedOptions,
): DampedResult {
  const { lower, upper, maxEvaluations = 200, relativeTolerance = 1e-8, stepTolerance = 1e-7 } = options;
  requireBounds(x, lower, upper);
  const size = x.length;
  let here = x.slice();
  for (let i = 0; i < size; i++) here[i] = Math.min(Math.max(here[i]!, lower[i]!), upper[i]!);
  let there = new Float64Array(size);
  let [gradient, nextGradient] = [new Float64Array(size), new Float64Array(size)];
  let [curvature, nextCurvature] = [new Float64Array(size * size), new Float64Array(size * size)];
  const work = new Float64Array(size * size);
  const step = new Float64Array(size);
  const free = new Int32Array(size);

  let value = objective(here, gradient, curvature);
  let evaluations = 1;
  let damping = 1e-2;
  let growth = 2;
  let converged = false;
  while (evaluations < maxEvaluations && !options.stop?.(evaluations, value)) {
    const freeCount = gatherFree(here, gradient, lower, upper, free);
    if (freeCount === 0) {
      converged = true;
      break;
    }
    let largest = 0;
    for (let i = 0; i < size; i++) largest = Math.max(largest, curvature[i * size + i]!);
    if (!(largest > 0)) break;
    const floor = 1e-9 * largest;
    if (
      !boxedStep(here, gradient, curvature, damping, floor, lower, upper, free, freeCount, work, step, there)
    ) {
      if (damping > 1e12) break;
      damping *= 10;
      continue;
    }
    let moved = 0;
    for (let i = 0; i < size; i++) moved = Math.max(moved, Math.abs(there[i]! - here[i]!));
    const promise = promised(here, there, gradient, curvature);
    if (moved <= stepTolerance || Math.abs(promise) <= relativeTolerance * Math.abs(value)) {
      converged = true;
      break;
    }
    const next = objective(there, nextGradient, nextCurvature);
    evaluations++;
    if (next < value) {
      const gain = (value - next) / promise;
      damping = Math.max(damping * Math.max(1 / 5, 1 - (2 * gain - 1) ** 3), 1e-9);
      growth = 2;
      value = next;
      [here, there] = [there, here];
      [gradient, nextGradient] = [nextGradient, gradient];
      [curvature, nextCurvature] = [nextCurvature, curvature];
    } else {
      damping *= growth;
      growth *= 2;
      if (damping > 1e15) {
        converged = true;
        break;
      }
    }
  }
  return { x: here, value, evaluations, converged };
}

/** Lists in `free` the variables that no bound holds against the descent; returns how many. */
function gatherFree(
  x: Float64Array,
  gradient: Float64Array,
  lower: Float64Array,
  upper: Float64Array,
  free: Int32Array,
): number {
  let count = 0;
  for (let i = 0; i < x.length; i++) {
    const slope = gradient[i]!;
    const held = (x[i]! <= lower[i]! && slope >= 0) || (x[i]! >= upper[i]! && slope <= 0);
    if (!held) free[count++] = i;
  }
  return count;
}

/**
 * Solves (H + λ D) d = -g over the free variables and writes x + d to `there`. A variable whose step would cross a
 * bound goes onto it, and the step of the others is solved again with that move given, until none crosses.
 * `free` is spoiled. Returns false where the matrix is not positive definite.
 */
function boxedStep(
  x: Float64Array,
  gradient: Float64Array,
  curvature: Float64Array,
  damping: number,
  floor: number,
  lower: Float64Array,
  upper: Float64Array,
  free: Int32Array,
  count: number,
  work: Float64Array,
  step: Float64Array,
  there: Float64Array,
): boolean {
  const size = x.length;
  there.set(x);
  let left = count;
  while (left > 0) {
    for (let row = 0; row < left; row++) {
      const i = free[row]!;
      for (let column = 0; column <= row; column++)
        work[row * left + column] = curvature[i * size + free[column]!]!;
      work[row * left + row]! += damping * Math.max(curvature[i * size + i]!, floor);
      let pull = -gradient[i]!;
      for (let j = 0; j < size; j++) pull -= curvature[i * size + j]! * (there[j]! - x[j]!);
      step[row] = pull;
    }
    if (!solvePositiveDefinite(work, step, left)) return false;
    let kept = 0;
    for (let row = 0; row < left; row++) {
      const i = free[row]!;
      const target = x[i]! + step[row]!;
      if (target < lower[i]!) there[i] = lower[i]!;
      else if (target > upper[i]!) there[i] = upper[i]!;
      else {
        free[kept] = i;
        step[kept++] = step[row]!;
      }
    }
    if (kept === left) {
      for (let row = 0; row < left; row++) there[free[row]!] = x[free[row]!]! + step[row]!;
      return true;
    }
    left = kept;
  }
  return true;
}

/** The fall of the value that the quadratic model promises for a move. */
function promised(
  from: Float64Array,
  to: Float64Array,
  gradient: Float64Array,
  curvature: Float64Array,
): number {
  const size = from.length;
  let fall = 0;
  for (let i = 0; i < size; i++) {
    const move = to[i]! - from[i]!;
    if (move === 0) continue;
    let bend = 0;
    for (let j = 0; j < size; j++) bend += curvature[i * size + j]! * (to[j]! - from[j]!);
    fall -= move * (gradient[i]! + bend / 2);
  }
  return fall;
}

function requireBounds(x: Float64Array, lower: Float64Array, upper: Float64Array): void {
  if (lower.length !== x.length || upper.length !== x.length)
    throw new InputError('bounds', `${lower.length} and ${upper.length} bounds for ${x.length} variables`);
  for (let i = 0; i < x.length; i++)
    if (!(lower[i]! <= upper[i]!))
      throw new InputError(
        `bounds[${i}]`,
        `the lower bound ${lower[i]} is above the upper bound ${upper[i]}`,
      );
}

/**
 * Residuals at `x` and their derivatives, `jacobian[point * x.length + variable]`, for a least-squares fit.
 */
export type Residuals = (x: Float64Array, residual: Float64Array, jacobian: Float64Array) => void;

/** Minimises half the sum of squares of `count` residuals within bounds, by `minimizeDamped`. */
export function fitLeastSquares(
  residuals: Residuals,
  count: number,
  x: Float64Array,
  options: DampedOptions,
): DampedResult {
  const size = x.length;
  const residual = new Float64Array(count);
  const jacobian = new Float64Array(count * size);
  const objective: CurvedObjective = (at, gradient, curvature) => {
    residuals(at, residual, jacobian);
    gradient.fill(0);
    curvature.fill(0);
    let value = 0;
    for (let point = 0; point < count; point++) {
      const error = residual[point]!;
      value += (error * error) / 2;
      addOuterProduct(jacobian, point * size, 1, error, gradient, curvature);
    }
    mirrorLower(curvature, size);
    return value;
  };
  return minimizeDamped(objective, x, options);
}

/**
 * Adds `slope` times the row of derivatives that starts at `offset` of `rows` to the gradient, and `bend` times its
 * outer product to the lower triangle of the curvature.
 */
export function addOuterProduct(
  rows: Float64Array,
  offset: number,
  bend: number,
  slope: number,
  gradient: Float64Array,
  curvature: Float64Array,
): void {
  const size = gradient.length;
  for (let i = 0; i < size; i++) {
    const own = rows[offset + i]!;
    gradient[i]! += slope * own;
    const scaled = bend * own;
    for (let j = 0; j <= i; j++) curvature[i * size + j]! += scaled * rows[offset + j]!;
  }
}

/** Copies the lower triangle of a row-major matrix to its upper one. */
export function mirrorLower(matrix: Float64Array, size: number): void {
  for (let i = 0; i < size; i++) for (let j = 0; j < i; j++) matrix[j * size + i] = matrix[i * size + j]!;
}
