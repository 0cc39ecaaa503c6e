import { InputError, requireEachWithin, requireWithin } from '../base/errors.ts';
import { type Medium, requireMedium } from './medium.ts';

/**
 * One coated surface with its indices on a grid of vacuum wavelengths (nm, above 0). `layers[0]` lies on the
 * substrate; light arrives from `incident`, which must not absorb. Equal layers may share one `Medium`
 * object, which then is tabulated once. Thicknesses are given separately, since they change most.
 */
export interface StackOnGrid {
  readonly wavelengthNm: Float64Array;
  readonly incident: Medium;
  readonly layers: readonly Medium[];
  readonly substrate: Medium;
}

/** The light's plane of vibration: s across the plane of incidence, p in it. */
export type Polarization = 's' | 'p';

/**
 * @param transparent the medium in which angles are measured: the incident one, unless light comes from within.
 * @throws InputError where a wavelength or an index of the stack is not legal.
 */
export function requireStack(stack: StackOnGrid, transparent: Medium = stack.incident): void {
  const { wavelengthNm, incident, layers, substrate } = stack;
  const count = wavelengthNm.length;
  requireEachWithin('wavelengthNm', wavelengthNm, 'nm', { above: 0 });
  requireMedium('incident', incident, count);
  if (transparent !== incident) requireMedium('angleIn', transparent, count);
  for (let i = 0; i < count; i++) {
    if (transparent.k[i] !== 0)
      throw new InputError(
        `incident.k[${i}]`,
        `${transparent.k[i]} is not 0; the incident medium must not absorb`,
      );
  }
  const checked = new Set<Medium>();
  layers.forEach((medium, j) => {
    if (checked.has(medium)) return;
    requireMedium(`layers[${j}]`, medium, count);
    checked.add(medium);
  });
  requireMedium('substrate', substrate, count);
}

/** @throws InputError where the thicknesses (nm, from 0) are not as many as the layers, or not legal. */
export function requireThicknesses(thicknessNm: Float64Array, layerCount: number): void {
  if (thicknessNm.length !== layerCount)
    throw new InputError(
      'thicknessNm',
      `${thicknessNm.length} thicknesses are given for ${layerCount} layers`,
    );
  for (let j = 0; j < layerCount; j++) {
    const value = thicknessNm[j]!;
    if (!(value >= 0 && value < Number.POSITIVE_INFINITY))
      requireWithin(`thicknessNm[${j}]`, value, 'nm', { min: 0 });
  }
}

/** @throws InputError where an angle of incidence is not in [0, 90°). */
export function requireIncidence(path: string, incidenceRad: number): void {
  requireWithin(path, incidenceRad, 'rad', { min: 0, below: Math.PI / 2 });
}
