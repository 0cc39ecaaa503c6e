import type { MeritGoal } from './merit-grid.ts';

/**
 * A goal's loss from the losses at its points, smooth enough to descend on. The loss q of a point is the quantity
 * where less is good, else what it lacks to 1; so less loss is always better, and 0 is perfect.
 *
 * - mean: the mean over the band; the extremum on the good side (the "best" point must get there): the least;
 *   the extremum on the bad side: the power mean (Σ s q^p)^(1/p), which tends to the largest as p grows.
 * - several angles: their power mean too, since the worst decides.
 *
 * @param sharpness the power p, a whole number from 2.
 * @param losses for each angle the points' losses.
 * @param slopes filled with the derivative of the result for each point, by angle, or left out.
 * @param bends filled with the (positive) second derivative for each point on its own.
 */
export function goalLoss(
  goal: MeritGoal,
  losses: readonly Float64Array[],
  sharpness: number,
  slopes?: readonly Float64Array[],
  bends?: readonly Float64Array[],
): number {
  const kind = lossKind(goal);
  const { shares } = goal;
  const angles = losses.length;
  if (kind === 'worst') {
    const top = largest(losses);
    if (top === 0) {
      for (const slope of slopes ?? []) slope.fill(0);
      for (const bend of bends ?? []) bend.fill(0);
      return 0;
    }
    let sum = 0;
    for (const loss of losses)
      for (let i = 0; i < loss.length; i++)
        sum += (shares[i]! / angles) * wholePower(loss[i]! / top, sharpness);
    const result = top * sum ** (1 / sharpness);
    if (slopes !== undefined && bends !== undefined)
      for (let a = 0; a < angles; a++) {
        const loss = losses[a]!;
        for (let i = 0; i < loss.length; i++) {
          const ratio = loss[i]! / result;
          const power = (shares[i]! / angles) * wholePower(ratio, sharpness - 2);
          slopes[a]![i] = power * ratio;
          bends[a]![i] = ((sharpness - 1) / result) * power;
        }
      }
    return result;
  }
  const values = losses.map((loss) => (kind === 'mean' ? weighted(loss, shares) : loss[leastAt(loss)]!));
  const { result, slopes: angleSlopes } = powerMean(values, sharpness);
  if (slopes !== undefined && bends !== undefined)
    for (let a = 0; a < angles; a++) {
      bends[a]!.fill(0);
      if (kind === 'mean')
        for (let i = 0; i < shares.length; i++) slopes[a]![i] = angleSlopes[a]! * shares[i]!;
      else {
        slopes[a]!.fill(0);
        slopes[a]![leastAt(losses[a]!)] = angleSlopes[a]!;
      }
    }
  return result;
}

/** The same without smoothing: what the requirement itself takes on these points. */
export function exactGoalLoss(goal: MeritGoal, losses: readonly Float64Array[]): number {
  const kind = lossKind(goal);
  let worst = 0;
  for (const loss of losses) {
    let value = 0;
    if (kind === 'mean') value = weighted(loss, goal.shares);
    else if (kind === 'best') value = loss[leastAt(loss)]!;
    else for (const one of loss) value = Math.max(value, one);
    worst = Math.max(worst, value);
  }
  return worst;
}

/** Whether the mean, the worst or the best point counts. */
function lossKind({ requirement: { statistic, sense } }: MeritGoal): 'mean' | 'worst' | 'best' {
  if (statistic === 'mean') return 'mean';
  return (statistic === 'max') === (sense === 'below') ? 'worst' : 'best';
}

function powerMean(
  values: readonly number[],
  sharpness: number,
): { result: number; slopes: readonly number[] } {
  if (values.length === 1) return { result: values[0]!, slopes: [1] };
  const top = Math.max(...values);
  if (top <= 0) return { result: 0, slopes: values.map(() => 0) };
  const sum = values.reduce((total, value) => total + (value / top) ** sharpness / values.length, 0);
  const result = top * sum ** (1 / sharpness);
  return { result, slopes: values.map((value) => (value / result) ** (sharpness - 1) / values.length) };
}

/** base^exponent for a whole exponent from 0, by squaring: a good deal faster than the general power. */
function wholePower(base: number, exponent: number): number {
  let result = 1;
  for (let square = base, left = exponent; left > 0; left >>= 1, square *= square)
    if ((left & 1) === 1) result *= square;
  return result;
}

function largest(losses: readonly Float64Array[]): number {
  let top = 0;
  for (const loss of losses) for (const value of loss) top = Math.max(top, value);
  return top;
}

function leastAt(values: Float64Array): number {
  let least = 0;
  for (let i = 1; i < values.length; i++) if (values[i]! < values[least]!) least = i;
  return least;
}

function weighted(values: Float64Array, shares: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]! * shares[i]!;
  return sum;
}
