import { RAD_PER_DEG } from '../base/constants.ts';
import { InputError, requireWithin } from '../base/errors.ts';
import { coneRays } from '../optics/average-light.ts';
import type { CoatedSurface } from './coated-surface.ts';
import { evaluateSampled, type RequirementResult } from './evaluate.ts';
import type { Requirement } from './requirement.ts';
import { opticalThicknessNm, type Sampler, surfaceSampler } from './sample-surface.ts';
import { pointsForBand } from './wavelength-grid.ts';

/** How a surface stands at one angle of incidence, whatever angles the requirements list. */
export interface AtAngle {
  readonly incidenceDeg: number;
  readonly results: readonly RequirementResult[];
}

/** Holds a surface against requirements at each of the angles (degrees, from 0 to below 90). */
export function evaluateOverAngle(
  requirements: readonly Requirement[],
  surface: CoatedSurface,
  anglesDeg: readonly number[],
): AtAngle[] {
  const sample = surfaceSampler(surface);
  return anglesDeg.map((incidenceDeg, place) => {
    requireWithin(`incidenceDeg[${place}]`, incidenceDeg, '°', { min: 0, below: 90 });
    const results = requirements.map((requirement) =>
      evaluateSampled(
        { ...requirement, incidenceDeg: [incidenceDeg] },
        sample,
        pointsOf(requirement, surface),
      ),
    );
    return { incidenceDeg, results };
  });
}

/** Rays of a cone from its axis outwards; the average then is exact to about 1e-6 for usual films. */
const CONE_POINTS = 12;

/**
 * Holds a surface against requirements in converging or diverging light: each angle listed is the axis of a cone of
 * rays, uniform in solid angle, of the given half angle (for a lens of f-number N about 1 / 2N rad).
 * @throws InputError where the cone reaches 90°.
 */
export function evaluateInCone(
  requirements: readonly Requirement[],
  surface: CoatedSurface,
  coneHalfAngleDeg: number,
): RequirementResult[] {
  requireWithin('coneHalfAngleDeg', coneHalfAngleDeg, '°', { min: 0, below: 90 });
  const straight = surfaceSampler(surface);
  const sample: Sampler = (wavelengthNm, axisDeg, observed) => {
    if (coneHalfAngleDeg === 0) return straight(wavelengthNm, axisDeg, observed);
    const sum = new Float64Array(wavelengthNm.length);
    const rays = coneRays(axisDeg * RAD_PER_DEG, coneHalfAngleDeg * RAD_PER_DEG, CONE_POINTS);
    for (const { incidenceRad, weight } of rays) {
      const values = straight(wavelengthNm, incidenceRad / RAD_PER_DEG, observed);
      for (let i = 0; i < sum.length; i++) sum[i]! += weight * values[i]!;
    }
    return sum;
  };
  return requirements.map((requirement, place) => {
    const steepest = Math.max(...requirement.incidenceDeg) + coneHalfAngleDeg;
    if (steepest >= 90)
      throw new InputError(
        'coneHalfAngleDeg',
        `the cone around ${Math.max(...requirement.incidenceDeg)}° of requirements[${place}] reaches ${steepest}°, which is not below 90°`,
      );
    return evaluateSampled(requirement, sample, pointsOf(requirement, surface));
  });
}

/** The coated face of a lens; a flat face has no slope and needs no such look. */
export interface LensFace {
  /** Radius of curvature in mm, above 0; convex and concave have the same slopes. */
  readonly radiusOfCurvatureMm: number;
  /** Distances from the lens axis in mm, from 0 to below the radius of curvature. */
  readonly pointsMm: readonly number[];
  /** Film thickness at each point over that at the vertex; left out: the cosine of the slope. */
  readonly relativeThickness?: readonly number[];
}

/** How the face stands at one distance from its axis. */
export interface AlongLens {
  readonly distanceMm: number;
  readonly slopeDeg: number;
  readonly relativeThickness: number;
  readonly results: readonly RequirementResult[];
}

/**
 * Holds a lens face against requirements from its vertex outwards. There the film is thinner (by the cosine of the
 * slope where vapour arrives along the axis: the same flux on more surface) and light that arrives at the angle
 * θ to the axis meets the face at |slope - θ| to slope + θ, both of which are required (rays in the plane of
 * axis and point; others lie between). Angles of 90° and more do not meet the face and are left out.
 * @throws InputError where a point lies beyond the sphere or the lists differ in length.
 */
export function evaluateAlongLens(
  requirements: readonly Requirement[],
  surface: CoatedSurface,
  face: LensFace,
): AlongLens[] {
  const { radiusOfCurvatureMm, pointsMm, relativeThickness } = face;
  requireWithin('radiusOfCurvatureMm', radiusOfCurvatureMm, 'mm', { above: 0 });
  if (relativeThickness !== undefined && relativeThickness.length !== pointsMm.length)
    throw new InputError(
      'relativeThickness',
      `${relativeThickness.length} thicknesses are given for ${pointsMm.length} points`,
    );
  return pointsMm.map((distanceMm, place) => {
    requireWithin(`points[${place}]`, distanceMm, 'mm', { min: 0, below: radiusOfCurvatureMm });
    const slopeRad = Math.asin(distanceMm / radiusOfCurvatureMm);
    const slopeDeg = slopeRad / RAD_PER_DEG;
    const factor = relativeThickness?.[place] ?? Math.cos(slopeRad);
    requireWithin(`relativeThickness[${place}]`, factor, '', { min: 0, max: 10 });
    const local = {
      ...surface,
      layers: surface.layers.map((layer) => ({ ...layer, thicknessNm: layer.thicknessNm * factor })),
    };
    const sample = surfaceSampler(local);
    const results = requirements.map((requirement) => {
      const angles = requirement.incidenceDeg.flatMap((angle) => [
        Math.abs(slopeDeg - angle),
        slopeDeg + angle,
      ]);
      const incidenceDeg = [...new Set(angles)].filter((angle) => angle < 90);
      return evaluateSampled({ ...requirement, incidenceDeg }, sample, pointsOf(requirement, local));
    });
    return { distanceMm, slopeDeg, relativeThickness: factor, results };
  });
}

function pointsOf({ bandNm }: Requirement, surface: CoatedSurface): number {
  return pointsForBand(bandNm, opticalThicknessNm(surface, bandNm[0]));
}
