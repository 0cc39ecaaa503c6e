import { requireWithin } from '../base/errors.ts';
import type { Medium } from './medium.ts';
import { SpectrumSolver } from './spectrum-solver.ts';
import type { Polarization, StackOnGrid } from './stack-on-grid.ts';
import { type TiltedMedium, tiltMedium } from './tilted-admittance.ts';

/**
 * The rest of a plane-parallel plate behind the coated front surface: its thickness and its second surface,
 * whose `backLayers[0]` lies on the substrate. Light that leaves goes into `exit`.
 */
export interface PlateOnGrid {
  readonly thicknessMm: number;
  readonly backLayers: readonly Medium[];
  readonly backThicknessNm: Float64Array;
  readonly exit: Medium;
}

/** Spectra of one surface or plate, each [wavelength], as fractions. */
export interface ReflectedTransmitted {
  readonly R: Float64Array;
  readonly T: Float64Array;
}

/**
 * Adds the second surface of a plate to the front surface's spectra, without interference: the plate is
 * taken to be thick against the light's coherence length, so that intensities add.
 *
 * With R1, T1 of the front from outside, R1' of it from within (T1' = T1 by reciprocity), R2, T2 of the back
 * and the internal transmittance τ = exp(−4π |Im(N cos θ)| d / λ) of one crossing, the geometric series gives
 *   R = R1 + T1² τ² R2 / (1 − τ² R1' R2),  T = T1 T2 τ / (1 − τ² R1' R2)
 * (textbook relation; for a bare lossless plate T = 2n / (n² + 1)). Where no light enters (total
 * reflection), R = R1 and T = 0.
 * @throws InputError where the plate's thickness, layers or exit are not legal.
 */
export function addSecondSurface(
  front: ReflectedTransmitted,
  stack: StackOnGrid,
  thicknessNm: Float64Array,
  plate: PlateOnGrid,
  incidenceRad: number,
  polarization: Polarization,
): ReflectedTransmitted {
  requireWithin('plate.thicknessMm', plate.thicknessMm, 'mm', { min: 0 });
  const { wavelengthNm, incident, layers, substrate } = stack;
  const within = (outer: readonly Medium[], beyond: Medium) =>
    new SpectrumSolver(
      { wavelengthNm, incident: substrate, layers: [...outer].reverse(), substrate: beyond },
      incidenceRad,
      polarization,
      incident,
    );
  const count = wavelengthNm.length;
  const r1 = new Float64Array(count);
  const r2 = new Float64Array(count);
  const t2 = new Float64Array(count);
  const spare = new Float64Array(count);
  within(layers, incident).spectrum(Float64Array.from(thicknessNm).reverse(), r1, spare);
  within(plate.backLayers, plate.exit).spectrum(Float64Array.from(plate.backThicknessNm).reverse(), r2, t2);
  const once = internalTransmittance(stack, plate.thicknessMm, incidenceRad);
  const R = new Float64Array(count);
  const T = new Float64Array(count);
  for (let w = 0; w < count; w++) {
    const t1 = front.T[w]!;
    R[w] = front.R[w]!;
    if (t1 === 0) continue;
    const crossing = once[w]!;
    const series = t1 / (1 - crossing * crossing * r1[w]! * r2[w]!);
    R[w]! += series * t1 * crossing * crossing * r2[w]!;
    T[w] = series * t2[w]! * crossing;
  }
  return { R, T };
}

/** The fraction of intensity that crosses the bulk once, [wavelength]. */
function internalTransmittance(
  { wavelengthNm, incident, substrate }: StackOnGrid,
  thicknessMm: number,
  incidenceRad: number,
): Float64Array {
  const tilted: TiltedMedium = { normalRe: 0, normalIm: 0, admittanceRe: 0, admittanceIm: 0 };
  const sine = Math.sin(incidenceRad);
  const cosine = Math.cos(incidenceRad);
  return wavelengthNm.map((nm, w) => {
    tiltMedium(tilted, substrate.n[w]!, substrate.k[w]!, incident.n[w]!, sine, cosine, 's', 0);
    return Math.exp((4 * Math.PI * tilted.normalIm * thicknessMm * 1e6) / nm);
  });
}
