import { RAD_PER_DEG } from '../base/constants.ts';
import { InputError, requireWithin } from '../base/errors.ts';
import { fitLeastSquares } from '../math/least-squares.ts';
import { naturalSpline } from '../math/natural-spline.ts';
import { meanArrival } from './deposit.ts';
import { flatSeat } from './element.ts';
import { lowestPointMm, type Motion, requireMotion } from './motion.ts';
import { outlinePenalty } from './outline-penalty.ts';
import { requireShield, type Shield, type ShieldShape, shieldShape } from './shield.ts';
import { crossingRadii } from './shield-reach.ts';
import { addShadowSlopes } from './shield-slopes.ts';
import { requireSource, type VapourSource } from './vapour-source.ts';

export interface EvenOutRequest {
  /** The sources whose films one sheet is to even; several make a compromise. */
  readonly sources: readonly VapourSource[];
  readonly motion: Motion;
  /** The zone that is evened: distances from the rack's own axis (on a dome: from the chamber's). */
  readonly fromMm: number;
  readonly toMm: number;
  /** Of the sheet. */
  readonly heightMm: number;
  /** Direction of the sheet's middle line, default that of the (first) source. */
  readonly azimuthDeg?: number;
  /** Sheets that already stand there. */
  readonly others?: readonly Shield[];
}

export interface EvenedOut {
  readonly shield: Shield;
  /** In the order of the sources. */
  readonly films: readonly EvenedFilm[];
}

/** Largest deviation over the zone from its mean, without and with the sheet, and what the sheet takes of the mean. */
export interface EvenedFilm {
  readonly bareDeviationPercent: number;
  readonly deviationPercent: number;
  readonly takenPercent: number;
}

/** Radii at which the film is evened, and points of the sheet's outline. */
const RADII = 24;
const OUTLINE_POINTS = 14;
/** The sheet is nowhere narrower than this, so that it stays in one piece (common practice, no source). */
const LEAST_HALF_WIDTH_MM = 4;
const MOST_HALF_ANGLE_RAD = 110 * RAD_PER_DEG;
/** The sheet reaches beyond the outermost rays by this much. */
const OVERLAP_MM = 6;
const EVALUATIONS = 25;

/**
 * The shape of a static shield that evens the film between two radii of a moving rack: the half angle at every point
 * of its outline is sought by damped least squares on the deviations of the film, each computed by the very average
 * over the motion that the plan uses, shadow included. A planet's places cross a stretch of the sheet on every turn,
 * so there the sheet's shape is the answer to an integral equation, and the best answer may leave a rest, which
 * `films` says. Among shapes that serve alike the smallest and smoothest is taken. Under a source the vapour is
 * densest, so a sheet on its side is the narrowest.
 * @throws InputError for a value outside its range, for a rack at rest (a shield would only cast its own picture) and
 * where a part of the zone gets nothing.
 */
export function evenOut(request: EvenOutRequest): EvenedOut {
  requireEvenOut(request);
  const { sources, motion, fromMm, toMm, heightMm } = request;
  const azimuthDeg = request.azimuthDeg ?? sources[0]!.azimuthDeg ?? 0;
  const radii = Array.from({ length: RADII }, (_, index) => fromMm + ((toMm - fromMm) * index) / (RADII - 1));
  const others = (request.others ?? []).map(shieldShape);
  const films = (shapes: readonly ShieldShape[]) =>
    sources.map((source) =>
      Float64Array.from(radii, (radius) =>
        meanArrival(source, motion, radius, flatSeat(0), undefined, shapes),
      ),
    );
  const bare = films(others);
  for (const film of bare)
    if (!(Math.min(...film) > 0))
      throw new InputError('toMm', 'part of the zone gets nothing, so it cannot be evened');
  const reach = crossingRadii(sources, motion, toMm, fromMm, heightMm, azimuthDeg);
  const inner = Math.max(0, reach.inner - OVERLAP_MM);
  const outer = reach.outer + OVERLAP_MM;
  const outlineMm = Array.from(
    { length: OUTLINE_POINTS },
    (_, index) => inner + ((outer - inner) * index) / (OUTLINE_POINTS - 1),
  );
  const shieldOf = (half: Float64Array): Shield => ({
    heightMm,
    azimuthDeg,
    outline: outlineMm.map((radiusMm, index) => ({ radiusMm, halfAngleDeg: half[index]! / RAD_PER_DEG })),
  });

  const lower = Float64Array.from(outlineMm, (radius) =>
    Math.min(MOST_HALF_ANGLE_RAD / 2, Math.atan2(LEAST_HALF_WIDTH_MM, radius)),
  );
  const upper = new Float64Array(OUTLINE_POINTS).fill(MOST_HALF_ANGLE_RAD);
  const start = lower.map((least) => Math.max(least, 0.05));
  const size = OUTLINE_POINTS;
  const evened = sources.length * RADII;
  const count = evened + 2 * size;
  const penalty = outlinePenalty(size);
  const influence = outlineMm.map((_, index) =>
    naturalSpline(
      Float64Array.from(outlineMm),
      Float64Array.from(outlineMm, (_mm, point) => (point === index ? 1 : 0)),
    ),
  );
  const slopes = Array.from({ length: RADII }, () => new Float64Array(size));
  const residuals = (half: Float64Array, residual: Float64Array, jacobian: Float64Array) => {
    const shape = shieldShape(shieldOf(half));
    const behind = films([...others, shape]);
    for (const [index, film] of behind.entries()) {
      for (const [at, radius] of radii.entries()) {
        slopes[at]!.fill(0);
        addShadowSlopes(shape, influence, sources[index]!, motion, radius, slopes[at]!);
      }
      const mean = meanOf(film);
      for (let at = 0; at < RADII; at++) residual[index * RADII + at] = film[at]! / mean - 1;
      for (let column = 0; column < size; column++) {
        const ofMean = slopes.reduce((sum, slope) => sum + slope[column]!, 0) / RADII;
        for (let at = 0; at < RADII; at++)
          jacobian[(index * RADII + at) * size + column] =
            (slopes[at]![column]! - (ofMean * film[at]!) / mean) / mean;
      }
    }
    for (let row = 0; row < 2 * size; row++)
      residual[evened + row] = half.reduce((sum, angle, at) => sum + penalty[row * size + at]! * angle, 0);
    jacobian.set(penalty, evened * size);
  };
  const { x } = fitLeastSquares(residuals, count, start, {
    lower,
    upper,
    maxEvaluations: EVALUATIONS,
    relativeTolerance: 1e-3,
    stepTolerance: 1e-4,
  });
  const behind = films([...others, shieldShape(shieldOf(x))]);
  return {
    shield: shieldOf(x),
    films: bare.map((film, index) => ({
      bareDeviationPercent: deviationPercent(film),
      deviationPercent: deviationPercent(behind[index]!),
      takenPercent: 100 * (1 - meanOf(behind[index]!) / meanOf(film)),
    })),
  };
}

function meanOf(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function deviationPercent(film: Float64Array): number {
  const mean = meanOf(film);
  return film.reduce((most, value) => Math.max(most, 100 * Math.abs(value / mean - 1)), 0);
}

function requireEvenOut(request: EvenOutRequest): void {
  const { sources, motion, fromMm, toMm, heightMm, others = [] } = request;
  if (sources.length === 0) throw new InputError('sources', 'names no source whose film could be evened');
  sources.forEach((source, index) => {
    requireSource(source, `sources[${index}]`);
  });
  requireMotion(motion);
  if (motion.kind === 'fixed')
    throw new InputError(
      'motion.kind',
      '"fixed" leaves the rack at rest, where a shield only casts its shadow',
    );
  const farthest = motion.kind === 'dome' ? motion.radiusMm : 10_000;
  requireWithin('toMm', toMm, 'mm', { above: 0, max: farthest });
  requireWithin('fromMm', fromMm, 'mm', { min: 0, below: toMm });
  requireWithin('azimuthDeg', request.azimuthDeg ?? 0, '°', { min: -360, max: 360 });
  others.forEach((shield, index) => {
    requireShield(shield, `others[${index}]`);
  });
  const highest = Math.max(...sources.map((source) => source.heightMm ?? 0));
  requireWithin('heightMm', heightMm, 'mm', { above: highest, below: lowestPointMm(motion, toMm) });
}
