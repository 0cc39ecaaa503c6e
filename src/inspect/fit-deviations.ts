import { invertPositiveDefinite } from '../math/inverse.ts';
import { fitLeastSquares } from '../math/least-squares.ts';
import { AsBuiltModel, type Deviation, type MeasuredCoating, plannedValue } from './as-built-model.ts';

/** How much a deviation is expected to stray before anything is measured (one sigma), and the farthest it is let. */
const EXPECTED: Readonly<Record<Deviation['kind'], { sigma: number; reach: number }>> = {
  thickness: { sigma: 0.1, reach: 0.4 },
  index: { sigma: 0.05, reach: 0.2 },
  grading: { sigma: 0.1, reach: 0.4 },
};
/** Measured fractions are not trusted beyond this, however small the residual. */
const LEAST_NOISE = 1e-7;

/** Deviations fitted to a measurement. */
export interface FittedDeviations {
  /** One value a deviation. */
  readonly x: Float64Array;
  /** One standard deviation each, from the residual's own size and the derivatives. */
  readonly sigma: Float64Array;
  /** Row-major, deviations × deviations. */
  readonly correlation: Float64Array;
  /** Sum of squares of the residual, in fractions squared. */
  readonly sumOfSquares: number;
  readonly residualRms: number;
  readonly converged: boolean;
}

/**
 * Fits deviations to a measurement by damped least squares from several starts. A weak expectation (thicknesses
 * within 10 %, indices within 5 %, one sigma) keeps apart what the measurement alone would leave open. The
 * noise is taken from the residual, and the covariance is (JᵀJ / s² + P)⁻¹ with P the expectation's (textbook
 * relations of weighted linear regression, e.g. N. R. Draper, H. Smith, Applied Regression Analysis).
 */
export function fitDeviations(
  coating: MeasuredCoating,
  deviations: readonly Deviation[],
  starts: readonly Float64Array[] = [],
): FittedDeviations {
  const model = new AsBuiltModel(coating, deviations);
  const planned = Float64Array.from(deviations, plannedValue);
  if (deviations.length === 0) return asPlanned(model, coating);

  const candidates = [planned, ...commonStarts(model, coating, deviations), ...starts];
  const coarse = candidates.map((start) => fitFrom(model, coating, deviations, start, 1e-3));
  const best = coarse.reduce((least, next) => (next.sumOfSquares < least.sumOfSquares ? next : least));
  const degrees = Math.max(1, model.pointCount - deviations.length);
  const noise = Math.max(LEAST_NOISE, Math.sqrt(best.sumOfSquares / degrees));
  const fine = fitFrom(model, coating, deviations, best.x, noise);
  return {
    ...fine,
    ...spread(model, deviations, fine.x, Math.max(LEAST_NOISE, Math.sqrt(fine.sumOfSquares / degrees))),
  };
}

function asPlanned(model: AsBuiltModel, coating: MeasuredCoating): FittedDeviations {
  const none = new Float64Array(0);
  const sumOfSquares = misfit(model, coating, none);
  return {
    x: none,
    sigma: none,
    correlation: none,
    sumOfSquares,
    residualRms: Math.sqrt(sumOfSquares / model.pointCount),
    converged: true,
  };
}

/** Starts in which all thicknesses share a factor: the two best valleys of a scan from 0.8 to 1.2. */
function commonStarts(
  model: AsBuiltModel,
  coating: MeasuredCoating,
  deviations: readonly Deviation[],
): Float64Array[] {
  const at = (value: number) =>
    Float64Array.from(deviations, (deviation) =>
      deviation.kind === 'thickness' ? 1 + value : plannedValue(deviation) + value / 2,
    );
  const scan = Array.from({ length: 41 }, (_, i) => (i - 20) / 100).map((value) => ({
    start: at(value),
    misfit: misfit(model, coating, at(value)),
  }));
  return scan
    .filter(
      ({ misfit }, i) =>
        misfit <= (scan[i - 1]?.misfit ?? Infinity) && misfit <= (scan[i + 1]?.misfit ?? Infinity),
    )
    .sort((a, b) => a.misfit - b.misfit)
    .slice(0, 2)
    .map(({ start }) => start);
}

function misfit(model: AsBuiltModel, { values }: MeasuredCoating, x: Float64Array): number {
  const light = new Float64Array(model.pointCount);
  model.values(x, light);
  return light.reduce((sum, value, w) => sum + (value - values[w]!) ** 2, 0);
}

function fitFrom(
  model: AsBuiltModel,
  coating: MeasuredCoating,
  deviations: readonly Deviation[],
  start: Float64Array,
  noise: number,
) {
  const points = model.pointCount;
  const size = deviations.length;
  const light = new Float64Array(points);
  const slope = new Float64Array(points * size);
  const planned = deviations.map(plannedValue);
  const { x, converged } = fitLeastSquares(
    (at, residual, jacobian) => {
      model.withSlopes(at, light, slope);
      for (let w = 0; w < points; w++) residual[w] = (light[w]! - coating.values[w]!) / noise;
      for (let i = 0; i < points * size; i++) jacobian[i] = slope[i]! / noise;
      for (const [p, { kind }] of deviations.entries()) {
        const { sigma } = EXPECTED[kind];
        residual[points + p] = (at[p]! - planned[p]!) / sigma;
        jacobian.fill(0, (points + p) * size, (points + p + 1) * size);
        jacobian[(points + p) * size + p] = 1 / sigma;
      }
    },
    points + size,
    start,
    {
      lower: Float64Array.from(deviations, ({ kind }, p) => planned[p]! - EXPECTED[kind].reach),
      upper: Float64Array.from(deviations, ({ kind }, p) => planned[p]! + EXPECTED[kind].reach),
      maxEvaluations: 60,
    },
  );
  const sumOfSquares = misfit(model, coating, x);
  return { x, converged, sumOfSquares, residualRms: Math.sqrt(sumOfSquares / points) };
}

function spread(
  model: AsBuiltModel,
  deviations: readonly Deviation[],
  x: Float64Array,
  noise: number,
): { sigma: Float64Array; correlation: Float64Array } {
  const size = deviations.length;
  const light = new Float64Array(model.pointCount);
  const slope = new Float64Array(model.pointCount * size);
  model.withSlopes(x, light, slope);
  const information = new Float64Array(size * size);
  for (let w = 0; w < model.pointCount; w++)
    for (let i = 0; i < size; i++)
      for (let j = 0; j < size; j++)
        information[i * size + j]! += (slope[w * size + i]! * slope[w * size + j]!) / noise ** 2;
  for (const [p, { kind }] of deviations.entries())
    information[p * size + p]! += 1 / EXPECTED[kind].sigma ** 2;
  const covariance = invertPositiveDefinite(information, size) ?? expectedCovariance(deviations);
  const sigma = Float64Array.from({ length: size }, (_, p) => Math.sqrt(covariance[p * size + p]!));
  const correlation = covariance.map(
    (value, at) => value / (sigma[Math.floor(at / size)]! * sigma[at % size]!),
  );
  return { sigma, correlation };
}

/** Where rounding spoils the inverse, nothing beyond the expectation is claimed. */
function expectedCovariance(deviations: readonly Deviation[]): Float64Array {
  const size = deviations.length;
  const covariance = new Float64Array(size * size);
  for (const [p, { kind }] of deviations.entries()) covariance[p * size + p] = EXPECTED[kind].sigma ** 2;
  return covariance;
}

/** Whether the measurement says much more about a deviation than was expected beforehand. */
export function isInformed({ kind }: Deviation, sigma: number): boolean {
  return sigma < EXPECTED[kind].sigma / 2;
}
