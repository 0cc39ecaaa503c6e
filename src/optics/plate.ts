import { InputError, requireWithin } from '../base/errors.ts';
import { frontLight, type Light } from './front-light.ts';
import { turnRound } from './graded-stack.ts';
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
 * reflection), R = R1 and T = 0. Derivatives follow by the chain rule, whatever they are with respect to.
 * @param inner the front as light meets it from within, with the same columns of derivatives as `front`.
 * @throws InputError where the plate's thickness, layers or exit are not legal, or where it absorbs strongly
 * and yet is only some wavelengths thick, so that intensities do not add.
 */
export function addSecondSurface(
  front: Light,
  inner: Light,
  stack: StackOnGrid,
  plate: PlateOnGrid,
  incidenceRad: number,
  polarization: Polarization,
): Light {
  requireWithin('plate.thicknessMm', plate.thicknessMm, 'mm', { min: 0 });
  const behind = turnedStack(stack, plate.backLayers, plate.exit);
  const back = frontLight(
    new SpectrumSolver(behind, incidenceRad, polarization, stack.incident),
    Float64Array.from(plate.backThicknessNm).reverse(),
    false,
  );
  const bulk = bulkOf(stack, plate.thicknessMm, incidenceRad);
  const R = front.R.slice();
  const T = new Float64Array(R.length);
  const slope = front.derivative && {
    R: front.derivative.R.slice(),
    T: new Float64Array(front.derivative.T.length),
  };
  const columns = (slope?.R.length ?? 0) / R.length;
  for (let w = 0; w < R.length; w++) {
    const t1 = front.T[w]!;
    if (t1 === 0) continue;
    const crossing = bulk.once[w]!;
    requireThick(stack, plate, w, bulk.slant[w]! * crossing * crossing);
    const returned = crossing * crossing * back.R[w]!;
    const series = crossingSeries(t1, inner.R[w]!, back.T[w]!, back.R[w]!, crossing);
    const passed = crossing * back.T[w]! * series;
    R[w]! += t1 * t1 * returned * series;
    T[w] = t1 * passed;
    if (slope === undefined) continue;
    for (let here = w * columns; here < (w + 1) * columns; here++) {
      const dT1 = front.derivative!.T[here]!;
      const dSeries = series * returned * inner.derivative!.R[here]!;
      slope.R[here]! += t1 * returned * series * (2 * dT1 + t1 * dSeries);
      slope.T[here] = passed * (dT1 + t1 * dSeries);
    }
  }
  return slope === undefined ? { R, T } : { R, T, derivative: slope };
}

/** A surface as light from within its bulk meets it: its layers turn round, since the outermost now lies lowest. */
export function turnedStack(
  { wavelengthNm, substrate }: StackOnGrid,
  layers: readonly Medium[],
  beyond: Medium,
): StackOnGrid {
  return { wavelengthNm, incident: substrate, layers: turnRound(layers), substrate: beyond };
}

/**
 * 1 / (1 − τ² R1' R2), the sum over all rounds of light between the two surfaces; `crossing` is τ. Counted by what
 * leaves in a round, (1 − τ²) + τ² [(1 − R1') + R1' (1 − R2)], so that it stays right where both surfaces reflect
 * all but nothing.
 */
export function crossingSeries(t1: number, r1: number, t2: number, r2: number, crossing: number): number {
  const out1 = notReflected(r1, t1);
  const out2 = notReflected(r2, t2);
  const left = (1 - crossing) * (1 + crossing) + crossing * crossing * (out1 + (1 - out1) * out2);
  return 1 / left;
}

/** Below this 1 − R keeps fewer than 13 digits. */
const FEW_DIGITS_LEFT = 1e-3;

/**
 * 1 − R; where that has lost digits, not less than T. Elsewhere T is no bound: within a bulk that absorbs, R + T
 * differs from 1 by the order of k/n, since the two waves there carry power together.
 */
function notReflected(reflectance: number, transmittance: number): number {
  const rest = 1 - reflectance;
  return rest < FEW_DIGITS_LEFT ? Math.max(rest, transmittance) : rest;
}

/** The fraction of intensity that crosses the bulk once, [wavelength]. */
export function internalTransmittance(
  stack: StackOnGrid,
  thicknessMm: number,
  incidenceRad: number,
): Float64Array {
  return bulkOf(stack, thicknessMm, incidenceRad).once;
}

/**
 * `once`: the fraction of intensity that crosses the bulk once. `slant`: |Im(N cos θ)| / Re(N cos θ), how far
 * the waves in it are from ones whose intensities add.
 */
function bulkOf(
  { wavelengthNm, incident, substrate }: StackOnGrid,
  thicknessMm: number,
  incidenceRad: number,
): { once: Float64Array; slant: Float64Array } {
  const tilted: TiltedMedium = { normalRe: 0, normalIm: 0, admittanceRe: 0, admittanceIm: 0 };
  const sine = Math.sin(incidenceRad);
  const cosine = Math.cos(incidenceRad);
  const once = new Float64Array(wavelengthNm.length);
  const slant = new Float64Array(wavelengthNm.length);
  for (let w = 0; w < wavelengthNm.length; w++) {
    tiltMedium(tilted, substrate.n[w]!, substrate.k[w]!, incident.n[w]!, sine, cosine, 's', 0);
    once[w] = Math.exp((4 * Math.PI * tilted.normalIm * thicknessMm * 1e6) / wavelengthNm[w]!);
    slant[w] = tilted.normalIm === 0 ? 0 : -tilted.normalIm / tilted.normalRe;
  }
  return { once, slant };
}

/** What of the interference terms may be left out; a plate of ten wavelengths or more never comes near it. */
const LARGEST_INTERFERENCE = 1e-3;

function requireThick(
  { wavelengthNm, substrate }: StackOnGrid,
  { thicknessMm }: PlateOnGrid,
  w: number,
  interference: number,
): void {
  if (interference <= LARGEST_INTERFERENCE) return;
  throw new InputError(
    'plate.thicknessMm',
    `${thicknessMm} mm is too thin for a bulk with n = ${substrate.n[w]}, k = ${substrate.k[w]} at ${wavelengthNm[w]} nm, whose two surfaces would interfere; give it as a layer`,
  );
}
