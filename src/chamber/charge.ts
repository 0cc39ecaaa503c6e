import { requireWithin } from '../base/errors.ts';
import { arrivalOnFixedPlane, arrivalOnRotatingPlane } from './emission.ts';

/** A layer on a plane above one source; lengths in mm, the plane parallel to the source's face. */
export interface ChargeRequest {
  readonly densityGPerCm3: number;
  readonly thicknessNm: number;
  /** n of the cos^n emission law, 0 to 50. */
  readonly exponent: number;
  readonly heightMm: number;
  /** Distance of the source from the axis about which the plane turns; left out: the plane stands still. */
  readonly offsetMm?: number;
  /** Distance of the point from that axis (or from the source's axis), default 0. */
  readonly pointRadiusMm?: number;
}

/**
 * The mass to evaporate, in g, so that the point of the plane gets the thickness: all of it leaves the source
 * by the emission law, sticks where it strikes, nothing is lost to the shutter or spat.
 * @throws InputError for a value outside its range.
 */
export function chargeMassG(request: ChargeRequest): number {
  const { densityGPerCm3, thicknessNm, exponent, heightMm, offsetMm, pointRadiusMm = 0 } = request;
  requireWithin('exponent', exponent, '', { min: 0, max: 50 });
  requireWithin('heightMm', heightMm, 'mm', { min: 1, max: 10_000 });
  requireWithin('offsetMm', offsetMm ?? 0, 'mm', { min: 0, max: 10_000 });
  requireWithin('pointRadiusMm', pointRadiusMm, 'mm', { min: 0, max: 10_000 });
  const perMm2 =
    offsetMm === undefined
      ? arrivalOnFixedPlane(exponent, heightMm, pointRadiusMm)
      : arrivalOnRotatingPlane(exponent, heightMm, offsetMm, pointRadiusMm);
  return massForThicknessG(densityGPerCm3, thicknessNm, perMm2);
}

/**
 * The mass in g that gives `thicknessNm` of a film of `densityGPerCm3` where the fraction
 * `perMassPerMm2` of the evaporated mass arrives per mm² (from any thickness distribution):
 * m = ρ d / f.
 * @throws InputError for a value outside its range, and where nothing arrives.
 */
export function massForThicknessG(
  densityGPerCm3: number,
  thicknessNm: number,
  perMassPerMm2: number,
): number {
  requireWithin('densityGPerCm3', densityGPerCm3, 'g/cm3', { above: 0, max: 30 });
  requireWithin('thicknessNm', thicknessNm, 'nm', { min: 0, max: 1e7 });
  requireWithin('perMassPerMm2', perMassPerMm2, 'per mm2', { above: 0, max: 1 });
  return (densityGPerCm3 * G_PER_MM3 * (thicknessNm * MM_PER_NM)) / perMassPerMm2;
}

/** The film thickness in nm that `massG` gives: the same law read the other way. */
export function thicknessOfMassNm(densityGPerCm3: number, massG: number, perMassPerMm2: number): number {
  requireWithin('densityGPerCm3', densityGPerCm3, 'g/cm3', { above: 0, max: 30 });
  requireWithin('massG', massG, 'g', { min: 0 });
  requireWithin('perMassPerMm2', perMassPerMm2, 'per mm2', { min: 0, max: 1 });
  return (massG * perMassPerMm2) / (densityGPerCm3 * G_PER_MM3) / MM_PER_NM;
}

/** 1 g/cm3 in g/mm3. */
const G_PER_MM3 = 1e-3;
const MM_PER_NM = 1e-6;
