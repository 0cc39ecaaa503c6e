import { InputError, requireWithin } from '../base/errors.ts';
import {
  AVERAGE_TOLERANCE,
  averageOverBand,
  averageOverCone,
  type BandShape,
  bandReach,
  type LightAt,
} from './average-light.ts';
import type { Light } from './front-light.ts';
import type { PlateOnGrid } from './plate.ts';
import { type Part, polarizedLight } from './polarized-light.ts';
import { SpectrumSolver } from './spectrum-solver.ts';
import type { Polarization, StackOnGrid } from './stack-on-grid.ts';

/** Fractions of the incident intensity, each [wavelength]; R + T + A = 1. */
export interface Spectra {
  readonly R: Float64Array;
  readonly T: Float64Array;
  readonly A: Float64Array;
}

/** Spectra of one polarization. */
export interface PolarizedSpectra extends Spectra {
  /**
   * Phase of the electric field that the front surface reflects, −π to π, for the time factor exp(+iωt), at
   * the angle itself and at each wavelength itself, never averaged. s and p agree at normal incidence.
   */
  readonly phaseRad: Float64Array;
  /** [wavelength * layerCount + layer], per nm; only where asked for. */
  readonly derivative?: { readonly R: Float64Array; readonly T: Float64Array };
}

/** All spectra at one angle; `mean` is that of s and p, as for natural light. */
export interface AngleSpectra {
  readonly s: PolarizedSpectra;
  readonly p: PolarizedSpectra;
  readonly mean: Spectra;
}

/** What an instrument or a beam averages over; see average-light.ts. */
export interface AverageOver {
  readonly bandwidthNm?: number;
  /** Default rectangular. For a Gaussian `bandwidthNm` is the full width at half maximum. */
  readonly bandShape?: BandShape;
  readonly coneHalfAngleRad?: number;
}

export interface SpectrumOptions {
  /** Angles in the incident medium, each from 0 to below π/2. */
  readonly incidenceRad: readonly number[];
  /** Adds the second surface of a plate without interference. */
  readonly plate?: PlateOnGrid;
  readonly derivative?: boolean;
}

/**
 * Spectra of a coated surface or plate for each angle. `thicknessNm` has one value (nm, from 0) for each layer.
 * Without a plate T is what enters the substrate and A what the layers absorb; with one, T is what leaves
 * into the exit medium and A includes the bulk. The phase is 0 where nothing is reflected.
 * @throws InputError where a value is not legal.
 */
export function computeSpectrum(
  stack: StackOnGrid,
  thicknessNm: Float64Array,
  { incidenceRad, plate, derivative = false }: SpectrumOptions,
): AngleSpectra[] {
  const part: Part = plate === undefined ? { stack } : { stack, plate };
  return everyAngle(incidenceRad, (angle, polarization) => {
    const solver = new SpectrumSolver(stack, angle, polarization);
    const light = polarizedLight(part, thicknessNm, angle, polarization, derivative, solver);
    return spectraOf(light, phase(solver, thicknessNm));
  });
}

/** Averaged spectra, with a sentence for each average that did not reach its accuracy. */
export interface AveragedSpectra {
  readonly angles: AngleSpectra[];
  readonly warnings: readonly string[];
}

/**
 * The same averaged over a band, over a cone of rays, or both. `partAt` gives the surface or plate on any
 * grid of wavelengths (nm), since an average asks for the indices between the points of `wavelengthNm`.
 * R and T are accurate to 1e-9 (AVERAGE_TOLERANCE) as judged by doubling the points.
 * @throws InputError where a value is not legal, the band reaches down to 0 nm or the cone up to 90°.
 */
export function computeAveragedSpectrum(
  partAt: (wavelengthNm: Float64Array) => Part,
  wavelengthNm: Float64Array,
  thicknessNm: Float64Array,
  {
    incidenceRad,
    derivative = false,
    averageOver,
  }: Omit<SpectrumOptions, 'plate'> & { averageOver: AverageOver },
): AveragedSpectra {
  const { bandwidthNm = 0, bandShape = 'rectangular', coneHalfAngleRad = 0 } = averageOver;
  requireWithin('averageOver.bandwidthNm', bandwidthNm, 'nm', { min: 0 });
  requireWithin('averageOver.coneHalfAngleRad', coneHalfAngleRad, 'rad', { min: 0 });
  requireBand(wavelengthNm, bandwidthNm * bandReach(bandShape));
  const widestRad = Math.max(...incidenceRad) + coneHalfAngleRad;
  if (widestRad >= Math.PI / 2)
    throw new InputError(
      'averageOver.coneHalfAngleRad',
      `the cone reaches ${widestRad} rad from the normal, which is not below ${Math.PI / 2} rad`,
    );
  const centre = partAt(wavelengthNm).stack;
  const cycles = fringes(centre, thicknessNm, bandwidthNm);
  let worst = 0;
  const angles = everyAngle(incidenceRad, (angle, polarization) => {
    const keep = ({ light, lastChange }: { light: Light; lastChange: number }) => {
      worst = Math.max(worst, lastChange);
      return light;
    };
    const sharp: LightAt = (nm, ray) =>
      polarizedLight(partAt(nm), thicknessNm, ray, polarization, derivative);
    const banded: LightAt =
      bandwidthNm === 0
        ? sharp
        : (nm, ray) => keep(averageOverBand(sharp, nm, ray, { bandwidthNm, shape: bandShape, cycles }));
    const light =
      coneHalfAngleRad === 0
        ? banded(wavelengthNm, angle)
        : keep(averageOverCone(banded, wavelengthNm, angle, coneHalfAngleRad));
    return spectraOf(light, phase(new SpectrumSolver(centre, angle, polarization), thicknessNm));
  });
  const warnings =
    worst > AVERAGE_TOLERANCE
      ? [`The average may still be off by ${worst.toExponential(1)}; its fringes are too dense to resolve.`]
      : [];
  return { angles, warnings };
}

function everyAngle(
  incidenceRad: readonly number[],
  spectra: (incidenceRad: number, polarization: Polarization) => PolarizedSpectra,
): AngleSpectra[] {
  if (incidenceRad.length === 0) throw new InputError('incidenceRad', 'no angle of incidence is given');
  return incidenceRad.map((angle) => {
    const s = spectra(angle, 's');
    const p = spectra(angle, 'p');
    const mean = (of: 'R' | 'T' | 'A') => s[of].map((value, w) => (value + p[of][w]!) / 2);
    return { s, p, mean: { R: mean('R'), T: mean('T'), A: mean('A') } };
  });
}

function spectraOf({ R, T, derivative }: Light, phaseRad: Float64Array): PolarizedSpectra {
  const A = absorptance(R, T);
  return { R, T, A, phaseRad, ...(derivative && { derivative }) };
}

/** What neither returns nor passes; rounding that would make it negative counts as nothing absorbed. */
function absorptance(R: Float64Array, T: Float64Array): Float64Array {
  return R.map((value, w) => Math.max(0, 1 - value - T[w]!));
}

function phase(solver: SpectrumSolver, thicknessNm: Float64Array): Float64Array {
  const re = new Float64Array(solver.wavelengthCount);
  const im = new Float64Array(solver.wavelengthCount);
  solver.reflectionCoefficient(thicknessNm, re, im);
  return re.map((value, w) => Math.atan2(im[w]!, value));
}

function requireBand(wavelengthNm: Float64Array, reachNm: number): void {
  const shortest = wavelengthNm.reduce((least, nm) => Math.min(least, nm), Number.POSITIVE_INFINITY);
  if (shortest - reachNm > 0) return;
  throw new InputError(
    'averageOver.bandwidthNm',
    `the band reaches ${reachNm} nm to either side of ${shortest} nm, down to no light at all`,
  );
}

/** How many fringes of the whole stack a band holds at most: 2 Σ n d times the change of the wave number. */
function fringes(
  { wavelengthNm, layers }: StackOnGrid,
  thicknessNm: Float64Array,
  bandwidthNm: number,
): number {
  let most = 0;
  for (let w = 0; w < wavelengthNm.length; w++) {
    const path = layers.reduce((sum, { n }, j) => sum + 2 * n[w]! * thicknessNm[j]!, 0);
    most = Math.max(most, (path * bandwidthNm) / wavelengthNm[w]! ** 2);
  }
  return most;
}
