import type { Medium } from './medium.ts';
import { type Polarization, requireIncidence, requireStack, type StackOnGrid } from './stack-on-grid.ts';
import {
  LEAST_LAYER_NORMAL,
  LEAST_SUBSTRATE_NORMAL,
  type TiltedMedium,
  tiltMedium,
} from './tilted-admittance.ts';

/** Numbers a layer has in `LayerTables.lossless`: half turns of phase per nm, η, 1/η. */
export const LOSSLESS_STRIDE = 3;
/** Numbers a medium has in `LayerTables.absorbing`: half turns per nm, octaves of decay per nm, Re η, Im η, Re 1/η, Im 1/η. */
export const ABSORBING_STRIDE = 6;

/** Wavelengths `from` to below `to` that one kernel serves. */
export interface WavelengthRun {
  readonly from: number;
  readonly to: number;
  readonly lossless: boolean;
}

/**
 * Everything that does not change with the thicknesses, at one angle and polarization: computed once, laid
 * out in the order in which the kernels read it.
 *
 * Phase is counted in half turns, δ = π (2 Re(N cos θ) / λ) d, decay in octaves, exp(−2 Im δ) = 2^−(octaves),
 * so that the kernels reduce both to the nearest whole number without multiplying.
 */
export interface LayerTables {
  readonly wavelengthCount: number;
  readonly layerCount: number;
  readonly mediumCount: number;
  /** For each layer the place of its medium, 0 to mediumCount − 1. */
  readonly mediumOf: Int32Array;
  /**
   * [wavelength][layer][LOSSLESS_STRIDE], so that the kernel reads straight on, which is a tenth faster than
   * by media; meaningless where a layer absorbs or is evanescent.
   */
  readonly lossless: Float64Array;
  /** [wavelength][medium][ABSORBING_STRIDE]; empty where every run is lossless. */
  readonly absorbing: Float64Array;
  /** Runs of wavelengths in ascending order, together all of them. */
  readonly runs: readonly WavelengthRun[];
  /** Admittance of the incident medium, [wavelength][2] (real, imaginary). */
  readonly incidentAdmittance: Float64Array;
  /** Admittance of the substrate, [wavelength][2] (real, imaginary). */
  readonly substrateAdmittance: Float64Array;
}

/**
 * @param angleIn the medium in which the angle of incidence is measured, which must not absorb. Where it is
 * another one than the incident medium, light arrives at a surface from within a plate and the incident
 * medium may absorb.
 * @throws InputError where the stack or the angle is not legal.
 */
export function layerTables(
  stack: StackOnGrid,
  incidenceRad: number,
  polarization: Polarization,
  angleIn: Medium = stack.incident,
): LayerTables {
  requireStack(stack, angleIn);
  requireIncidence('incidenceRad', incidenceRad);
  const { wavelengthNm, incident, layers, substrate } = stack;
  const sine = Math.sin(incidenceRad);
  const cosine = Math.cos(incidenceRad);
  const wavelengthCount = wavelengthNm.length;
  const media = [...new Set(layers)];
  const place = new Map<Medium, number>(media.map((medium, m) => [medium, m]));
  const mediumOf = Int32Array.from(layers, (medium) => place.get(medium)!);
  const mediumCount = media.length;
  const tilted: TiltedMedium = { normalRe: 0, normalIm: 0, admittanceRe: 0, admittanceIm: 0 };

  const lossless = new Float64Array(wavelengthCount * layers.length * LOSSLESS_STRIDE);
  const absorbing = new Float64Array(wavelengthCount * mediumCount * ABSORBING_STRIDE);
  const lossy = new Uint8Array(wavelengthCount);
  const incidentAdmittance = new Float64Array(2 * wavelengthCount);
  const substrateAdmittance = new Float64Array(2 * wavelengthCount);

  for (let w = 0; w < wavelengthCount; w++) {
    const n0 = angleIn.n[w]!;
    const tilt = ({ n, k }: Medium, leastNormal: number) =>
      tiltMedium(tilted, n[w]!, k[w]!, n0, sine, cosine, polarization, leastNormal);
    tilt(incident, LEAST_SUBSTRATE_NORMAL);
    incidentAdmittance[2 * w] = tilted.admittanceRe;
    incidentAdmittance[2 * w + 1] = tilted.admittanceIm;
    if (tilted.admittanceIm !== 0) lossy[w] = 1;
    tilt(substrate, LEAST_SUBSTRATE_NORMAL);
    substrateAdmittance[2 * w] = tilted.admittanceRe;
    substrateAdmittance[2 * w + 1] = tilted.admittanceIm;
    for (let m = 0; m < mediumCount; m++) {
      tilt(media[m]!, LEAST_LAYER_NORMAL);
      const { normalRe, normalIm, admittanceRe: re, admittanceIm: im } = tilted;
      const size = re * re + im * im;
      const halfTurns = (2 * normalRe) / wavelengthNm[w]!;
      const octaves = (-4 * Math.PI * Math.LOG2E * normalIm) / wavelengthNm[w]!;
      const slot = w * mediumCount + m;
      const there = slot * ABSORBING_STRIDE;
      absorbing[there] = halfTurns;
      absorbing[there + 1] = octaves;
      absorbing[there + 2] = re;
      absorbing[there + 3] = im;
      absorbing[there + 4] = re / size;
      absorbing[there + 5] = -im / size;
      if (normalIm !== 0) lossy[w] = 1;
    }
    let here = w * layers.length * LOSSLESS_STRIDE;
    for (let j = 0; j < layers.length; j++, here += LOSSLESS_STRIDE) {
      const there = (w * mediumCount + mediumOf[j]!) * ABSORBING_STRIDE;
      lossless[here] = absorbing[there]!;
      lossless[here + 1] = absorbing[there + 2]!;
      lossless[here + 2] = absorbing[there + 4]!;
    }
  }
  const runs = runsOf(lossy);
  return {
    wavelengthCount,
    layerCount: layers.length,
    mediumCount,
    mediumOf,
    lossless,
    absorbing: runs.some((run) => !run.lossless) ? absorbing : new Float64Array(0),
    runs,
    incidentAdmittance,
    substrateAdmittance,
  };
}

function runsOf(lossy: Uint8Array): WavelengthRun[] {
  const runs: WavelengthRun[] = [];
  for (let from = 0; from < lossy.length; ) {
    let to = from + 1;
    while (to < lossy.length && lossy[to] === lossy[from]) to++;
    runs.push({ from, to, lossless: lossy[from] === 0 });
    from = to;
  }
  return runs;
}
