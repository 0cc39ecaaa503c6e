import Complex from 'complex.js';
import type { Polarization } from './stack-on-grid.ts';
import { type TiltedMedium, tiltMedium } from './tilted-admittance.ts';

/** One medium at one wavelength and angle, in words rather than in a table's numbers. */
export interface LightInMedium {
  /** N cos θ. */
  readonly normal: Complex;
  /** Tilted admittance η. */
  readonly admittance: Complex;
  /** N². */
  readonly permittivity: Complex;
}

/** The angle that all media of a stack share, seen from the incident medium. */
export interface Ray {
  readonly incidentN: number;
  readonly incidenceRad: number;
  readonly polarization: Polarization;
}

export function lightInMedium(n: number, k: number, ray: Ray, leastNormal: number): LightInMedium {
  const into: TiltedMedium = { normalRe: 0, normalIm: 0, admittanceRe: 0, admittanceIm: 0 };
  const { incidentN, incidenceRad, polarization } = ray;
  tiltMedium(
    into,
    n,
    k,
    incidentN,
    Math.sin(incidenceRad),
    Math.cos(incidenceRad),
    polarization,
    leastNormal,
  );
  return {
    normal: new Complex(into.normalRe, into.normalIm),
    admittance: new Complex(into.admittanceRe, into.admittanceIm),
    permittivity: new Complex((n - k) * (n + k), -2 * n * k),
  };
}

/** Tangential electric field B and magnetic field C in free-space units, times exp(−logScale). */
export interface FieldVector {
  readonly b: Complex;
  readonly c: Complex;
  readonly logScale: number;
}

/**
 * The field one `thicknessNm` (from 0) further from the substrate within the same medium: Abelès' matrix
 * (1950; Born & Wolf, sec. 1.6.2) times exp(−|Im δ|), so that thick absorbing layers cannot overflow.
 */
export function throughLayer(
  { b, c, logScale }: FieldVector,
  { normal, admittance }: LightInMedium,
  thicknessNm: number,
  wavelengthNm: number,
): FieldVector {
  const wave = (2 * Math.PI * thicknessNm) / wavelengthNm;
  const turn = wave * normal.re;
  const decay = -wave * normal.im;
  const odd = -Math.expm1(-2 * decay) / 2;
  const even = 1 - odd;
  const cosine = new Complex(even * Math.cos(turn), odd * Math.sin(turn));
  const iSine = new Complex(odd * Math.cos(turn), even * Math.sin(turn));
  return {
    b: cosine.mul(b).add(iSine.mul(c).div(admittance)),
    c: cosine.mul(c).add(iSine.mul(b).mul(admittance)),
    logScale: logScale + decay,
  };
}
