import { InputError } from '../base/errors.ts';
import { addSecondSurface, type PlateOnGrid, type ReflectedTransmitted } from './plate.ts';
import { SpectrumSolver } from './spectrum-solver.ts';
import type { Polarization, StackOnGrid } from './stack-on-grid.ts';

/** Fractions of the incident intensity, each [wavelength]; R + T + A = 1. */
export interface Spectra {
  readonly R: Float64Array;
  readonly T: Float64Array;
  readonly A: Float64Array;
}

/** Spectra of one polarization, with the phase of the front surface's reflected electric field, −π to π. */
export interface PolarizedSpectra extends Spectra {
  readonly phaseRad: Float64Array;
}

/** All spectra at one angle; `mean` is that of s and p, as for natural light. */
export interface AngleSpectra {
  readonly s: PolarizedSpectra;
  readonly p: PolarizedSpectra;
  readonly mean: Spectra;
}

export interface SpectrumOptions {
  /** Angles in the incident medium, each from 0 to below π/2. */
  readonly incidenceRad: readonly number[];
  /** Adds the second surface of a plate without interference. */
  readonly plate?: PlateOnGrid;
}

/**
 * Spectra of a coated surface or plate for each angle. `thicknessNm` has one value (nm, from 0) for each layer.
 * Without a plate T is what enters the substrate and A what the layers absorb; with one, T is what leaves
 * into the exit medium and A includes the bulk. Phase: time factor exp(+iωt), tangential field, so that s
 * and p agree at normal incidence; 0 where nothing is reflected.
 * @throws InputError where a value is not legal.
 */
export function computeSpectrum(
  stack: StackOnGrid,
  thicknessNm: Float64Array,
  { incidenceRad, plate }: SpectrumOptions,
): AngleSpectra[] {
  if (incidenceRad.length === 0) throw new InputError('incidenceRad', 'no angle of incidence is given');
  return incidenceRad.map((angle) => {
    const s = polarized(stack, thicknessNm, plate, angle, 's');
    const p = angle === 0 ? copy(s) : polarized(stack, thicknessNm, plate, angle, 'p');
    const mean = (of: 'R' | 'T' | 'A') => s[of].map((value, w) => (value + p[of][w]!) / 2);
    return { s, p, mean: { R: mean('R'), T: mean('T'), A: mean('A') } };
  });
}

function polarized(
  stack: StackOnGrid,
  thicknessNm: Float64Array,
  plate: PlateOnGrid | undefined,
  incidenceRad: number,
  polarization: Polarization,
): PolarizedSpectra {
  const count = stack.wavelengthNm.length;
  const solver = new SpectrumSolver(stack, incidenceRad, polarization);
  const re = new Float64Array(count);
  const im = new Float64Array(count);
  solver.reflectionCoefficient(thicknessNm, re, im);
  const phaseRad = re.map((value, w) => Math.atan2(im[w]!, value));
  const front = { R: re, T: im };
  solver.spectrum(thicknessNm, front.R, front.T);
  const { R, T } =
    plate === undefined
      ? front
      : addSecondSurface(front, stack, thicknessNm, plate, incidenceRad, polarization);
  return { R, T, A: absorptance({ R, T }), phaseRad };
}

/** What neither returns nor passes; rounding that would make it negative is taken as nothing absorbed. */
function absorptance({ R, T }: ReflectedTransmitted): Float64Array {
  return R.map((value, w) => Math.max(0, 1 - value - T[w]!));
}

function copy(spectra: PolarizedSpectra): PolarizedSpectra {
  const { R, T, A, phaseRad } = spectra;
  return { R: R.slice(), T: T.slice(), A: A.slice(), phaseRad: phaseRad.slice() };
}
