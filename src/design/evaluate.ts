import type { CoatedSurface } from './coated-surface.ts';
import type { Requirement } from './requirement.ts';
import { opticalThicknessNm, type Sampler, surfaceSampler } from './sample-surface.ts';
import { bandGrid, meanWeights, pointsForBand } from './wavelength-grid.ts';

/** How a surface stands against one requirement. Values in percent, angles in degrees in the incident medium. */
export interface RequirementResult {
  /** The required statistic at the angle where it is worst. */
  readonly value: number;
  readonly limit: number;
  readonly met: boolean;
  /** How far on the good side of the limit; negative where missed. */
  readonly margin: number;
  /** Where the quantity itself is worst in the band at that angle (for max and min: the value's own place). */
  readonly worstWavelengthNm: number;
  readonly worstIncidenceDeg: number;
}

/** A value met by rounding alone counts as met: 1e-9 of a percent. */
const ROUNDING_PERCENT = 1e-9;

/**
 * Holds a coated surface against requirements. Each angle listed is required, so the worst one decides. The grid
 * takes 16 points a fringe (at least 61), means are Simpson's, and extrema are refined between the points
 * until their place is known to 1/64 of a step.
 */
export function evaluateRequirements(
  requirements: readonly Requirement[],
  surface: CoatedSurface,
): RequirementResult[] {
  const sample = surfaceSampler(surface);
  return requirements.map((requirement) => {
    const thickness = opticalThicknessNm(surface, requirement.bandNm[0]);
    return evaluateSampled(requirement, sample, pointsForBand(requirement.bandNm, thickness));
  });
}

/** The same for whatever can be sampled, on `points` evenly spaced wavelengths. */
export function evaluateSampled(
  requirement: Requirement,
  sample: Sampler,
  points: number,
): RequirementResult {
  let worst: RequirementResult | undefined;
  for (const angle of requirement.incidenceDeg) {
    const result = evaluateAngle(requirement, sample, angle, points);
    if (worst === undefined || result.margin < worst.margin) worst = result;
  }
  return worst!;
}

function evaluateAngle(
  requirement: Requirement,
  sample: Sampler,
  incidenceDeg: number,
  points: number,
): RequirementResult {
  const { limit, statistic, sense, bandNm } = requirement;
  const grid = bandGrid(bandNm, points);
  const values = sample(grid, incidenceDeg, requirement);
  const zoom = (sign: 1 | -1) =>
    refineMaximum(
      grid,
      values.map((value) => sign * value),
      (at) => sample(at, incidenceDeg, requirement).map((value) => sign * value),
    );
  const badSide = sense === 'below' ? 1 : -1;
  const worst = zoom(badSide);
  const side = statistic === 'max' ? 1 : -1;
  let place = worst;
  let fraction: number;
  if (statistic === 'mean') {
    const weights = meanWeights(grid.length);
    fraction = values.reduce((sum, value, i) => sum + value * weights[i]!, 0);
  } else {
    place = side === badSide ? worst : zoom(side);
    fraction = side * place.value;
  }
  const value = 100 * fraction;
  const margin = badSide * (limit - value);
  return {
    value,
    limit,
    met: margin >= -ROUNDING_PERCENT,
    margin,
    worstWavelengthNm: place.wavelengthNm,
    worstIncidenceDeg: incidenceDeg,
  };
}

/** Local maxima that are followed between the points; the next ones would have to gain more than these. */
const FOLLOWED = 6;

/**
 * The largest value over the band: the best local maxima of the grid are each sampled twice more, 17 points over
 * two steps, then 17 over two of those.
 */
function refineMaximum(
  grid: Float64Array,
  values: Float64Array,
  sample: (wavelengthNm: Float64Array) => Float64Array,
): { value: number; wavelengthNm: number } {
  const peaks: number[] = [];
  for (let i = 0; i < values.length; i++) {
    const rises = i === 0 || values[i]! >= values[i - 1]!;
    const falls = i === values.length - 1 || values[i]! >= values[i + 1]!;
    if (rises && falls) peaks.push(i);
  }
  peaks.sort((one, other) => values[other]! - values[one]!);
  let best = { value: values[peaks[0]!]!, wavelengthNm: grid[peaks[0]!]! };
  for (const peak of peaks.slice(0, FOLLOWED)) {
    let from = grid[Math.max(peak - 1, 0)]!;
    let to = grid[Math.min(peak + 1, grid.length - 1)]!;
    for (let round = 0; round < 2 && to > from; round++) {
      const finer = bandGrid([from, to], 17);
      const found = sample(finer);
      let top = 0;
      for (let i = 1; i < found.length; i++) if (found[i]! > found[top]!) top = i;
      if (found[top]! > best.value) best = { value: found[top]!, wavelengthNm: finer[top]! };
      from = finer[Math.max(top - 1, 0)]!;
      to = finer[Math.min(top + 1, finer.length - 1)]!;
    }
  }
  return best;
}
