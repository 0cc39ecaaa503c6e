import { requireWithin } from '../base/errors.ts';
import { frontLight, type Light } from './front-light.ts';
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

/**
 * Adds the second surface of a plate to the front surface's spectra, without interference: the plate is
 * taken to be thick against the light's coherence length, so that intensities add.
 *
 * With R1, T1 of the front from outside, R1' of it from within (T1' = T1 by reciprocity), R2, T2 of the back
 * and the internal transmittance τ = exp(−4π |Im(N cos θ)| d / λ) of one crossing, the geometric series gives
 *   R = R1 + T1² τ² R2 / (1 − τ² R1' R2),  T = T1 T2 τ / (1 − τ² R1' R2)
 * (textbook relation; for a bare lossless plate T = 2n / (n² + 1)). Where no light enters (total
 * reflection), R = R1 and T = 0. Derivatives with respect to the front's layers follow by the chain rule.
 * @throws InputError where the plate's thickness, layers or exit are not legal.
 */
export function addSecondSurface(
  front: Light,
  stack: StackOnGrid,
  thicknessNm: Float64Array,
  plate: PlateOnGrid,
  incidenceRad: number,
  polarization: Polarization,
): Light {
  requireWithin('plate.thicknessMm', plate.thicknessMm, 'mm', { min: 0 });
  const { wavelengthNm, incident, layers, substrate } = stack;
  /** What light meets at a surface from within; its layers turn round, since the outermost now lies lowest. */
  const within = (media: readonly Medium[], nm: Float64Array, beyond: Medium, derivative: boolean) => {
    const turned = { wavelengthNm, incident: substrate, layers: [...media].reverse(), substrate: beyond };
    const solver = new SpectrumSolver(turned, incidenceRad, polarization, incident);
    return frontLight(solver, Float64Array.from(nm).reverse(), derivative);
  };
  const inner = within(layers, thicknessNm, incident, front.derivative !== undefined);
  const back = within(plate.backLayers, plate.backThicknessNm, plate.exit, false);
  const once = internalTransmittance(stack, plate.thicknessMm, incidenceRad);
  const R = front.R.slice();
  const T = new Float64Array(R.length);
  const slope = front.derivative && {
    R: front.derivative.R.slice(),
    T: new Float64Array(front.derivative.T.length),
  };
  const layerCount = layers.length;
  for (let w = 0; w < R.length; w++) {
    const t1 = front.T[w]!;
    if (t1 === 0) continue;
    const crossing = once[w]!;
    const returned = crossing * crossing * back.R[w]!;
    const series = 1 / (1 - returned * inner.R[w]!);
    const passed = crossing * back.T[w]! * series;
    R[w]! += t1 * t1 * returned * series;
    T[w] = t1 * passed;
    if (slope === undefined) continue;
    for (let j = 0; j < layerCount; j++) {
      const here = w * layerCount + j;
      const dT1 = front.derivative!.T[here]!;
      const dSeries = series * returned * inner.derivative!.R[w * layerCount + layerCount - 1 - j]!;
      slope.R[here]! += t1 * returned * series * (2 * dT1 + t1 * dSeries);
      slope.T[here] = passed * (dT1 + t1 * dSeries);
    }
  }
  return slope === undefined ? { R, T } : { R, T, derivative: slope };
}

/** The fraction of intensity that crosses the bulk once, [wavelength]. */
export function internalTransmittance(
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
