import { BOUNDARY_STRIDE, boundariesOf, GROWTH_PER_OCTAVE } from './layer-boundaries.ts';
import type { Medium } from './medium.ts';
import { type Polarization, requireIncidence, requireStack, type StackOnGrid } from './stack-on-grid.ts';
import {
  LEAST_LAYER_NORMAL,
  LEAST_SUBSTRATE_NORMAL,
  type TiltedMedium,
  tiltMedium,
} from './tilted-admittance.ts';

/** Numbers a medium has in `LayerTables.media`: half turns per nm, octaves of decay per nm, Re η, Im η, Re 1/η, Im 1/η. */
export const MEDIUM_STRIDE = 6;

/** Octaves by which exp(−2 Im δ) falls over a wavelength, for each unit of −Im(N cos θ). */
const OCTAVES_A_WAVE = -4 * Math.PI * Math.LOG2E;

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
 *
 * On their way up the kernels keep the magnetic field in units of the layer in which they are, F = C / η, since a
 * layer's matrix then is a bare rotation. A boundary costs one factor, η below over η above, free space (1) lying
 * above the last layer.
 */
export interface LayerTables {
  readonly wavelengthCount: number;
  readonly layerCount: number;
  /** [wavelength][medium][MEDIUM_STRIDE], media in the order in which layers first have them */
  readonly media: Float64Array;
  /** For each layer the place of its upper boundary, 0 to boundaryCount − 1. */
  readonly boundaryOf: Int32Array;
  readonly boundaryCount: number;
  /** [wavelength][boundary][BOUNDARY_STRIDE] */
  readonly boundaries: Float64Array;
  /** Into the units of the lowest layer: 1/η of it, 1 without layers; [wavelength][2] (real, imaginary). */
  readonly entry: Float64Array;
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
  const distinct = [...new Set(layers)];
  const place = new Map<Medium, number>(distinct.map((medium, m) => [medium, m]));
  const mediumOf = Int32Array.from(layers, (medium) => place.get(medium)!);
  const mediumCount = distinct.length;
  const { boundaryOf, media: pairs } = boundariesOf(mediumOf);
  const boundaries = new Float64Array(wavelengthCount * pairs.length * BOUNDARY_STRIDE);
  const entry = new Float64Array(2 * wavelengthCount);
  const media = new Float64Array(wavelengthCount * mediumCount * MEDIUM_STRIDE);
  const lossy = new Uint8Array(wavelengthCount);
  const incidentAdmittance = new Float64Array(2 * wavelengthCount);
  const substrateAdmittance = new Float64Array(2 * wavelengthCount);

  const tilted: TiltedMedium = { normalRe: 0, normalIm: 0, admittanceRe: 0, admittanceIm: 0 };
  const tilt = ({ n, k }: Medium, w: number, leastNormal: number) =>
    tiltMedium(tilted, n[w]!, k[w]!, angleIn.n[w]!, sine, cosine, polarization, leastNormal);
  for (let w = 0; w < wavelengthCount; w++) {
    tilt(incident, w, LEAST_SUBSTRATE_NORMAL);
    incidentAdmittance[2 * w] = tilted.admittanceRe;
    incidentAdmittance[2 * w + 1] = tilted.admittanceIm;
    if (tilted.admittanceIm !== 0) lossy[w] = 1;
    tilt(substrate, w, LEAST_SUBSTRATE_NORMAL);
    substrateAdmittance[2 * w] = tilted.admittanceRe;
    substrateAdmittance[2 * w + 1] = tilted.admittanceIm;
  }
  distinct.forEach((medium, m) => {
    for (
      let w = 0, there = m * MEDIUM_STRIDE;
      w < wavelengthCount;
      w++, there += mediumCount * MEDIUM_STRIDE
    ) {
      tilt(medium, w, LEAST_LAYER_NORMAL);
      const { normalRe, normalIm, admittanceRe: re, admittanceIm: im } = tilted;
      const size = re * re + im * im;
      media[there] = (2 * normalRe) / wavelengthNm[w]!;
      media[there + 1] = (OCTAVES_A_WAVE * normalIm) / wavelengthNm[w]!;
      media[there + 2] = re;
      media[there + 3] = im;
      media[there + 4] = re / size;
      media[there + 5] = -im / size;
      if (normalIm !== 0) lossy[w] = 1;
    }
  });
  const isBare = layers.length === 0;
  for (let w = 0; w < wavelengthCount; w++) {
    const row = w * mediumCount;
    // The lowest layer's medium is the first.
    entry[2 * w] = isBare ? 1 : media[row * MEDIUM_STRIDE + 4]!;
    entry[2 * w + 1] = isBare ? 0 : media[row * MEDIUM_STRIDE + 5]!;
    for (let b = 0; b < pairs.length; b++) {
      const [below, above] = pairs[b]!;
      const here = (w * pairs.length + b) * BOUNDARY_STRIDE;
      fillBoundary(
        boundaries,
        here,
        media,
        (row + below) * MEDIUM_STRIDE,
        (row + above) * MEDIUM_STRIDE,
        above < 0,
      );
    }
  }
  return {
    wavelengthCount,
    layerCount: layers.length,
    media,
    boundaryOf,
    boundaryCount: pairs.length,
    boundaries,
    entry,
    runs: runsOf(lossy),
    incidentAdmittance,
    substrateAdmittance,
  };
}

/** Fills the boundary at `here` from the table of media; below and above are places in it. */
function fillBoundary(
  boundaries: Float64Array,
  here: number,
  media: Float64Array,
  below: number,
  above: number,
  aboveIsFree: boolean,
): void {
  const perRe = aboveIsFree ? 1 : media[above + 4]!;
  const perIm = aboveIsFree ? 0 : media[above + 5]!;
  const halfTurns = media[below]!;
  const octaves = media[below + 1]!;
  const re = media[below + 2]!;
  const im = media[below + 3]!;
  const rateRe = GROWTH_PER_OCTAVE * octaves;
  const rateIm = Math.PI * halfTurns;
  boundaries[here] = halfTurns;
  boundaries[here + 1] = octaves;
  boundaries[here + 2] = re * perRe - im * perIm;
  boundaries[here + 3] = re * perIm + im * perRe;
  boundaries[here + 4] = rateRe * re - rateIm * im;
  boundaries[here + 5] = rateRe * im + rateIm * re;
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
