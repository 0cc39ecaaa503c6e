import { frontLight, type Light } from './front-light.ts';
import { addSecondSurface, type PlateOnGrid, turnedStack } from './plate.ts';
import { SpectrumSolver } from './spectrum-solver.ts';
import type { Polarization, StackOnGrid } from './stack-on-grid.ts';

/** A coated surface or plate on a grid of wavelengths. */
export interface Part {
  readonly stack: StackOnGrid;
  readonly plate?: PlateOnGrid;
}

/**
 * R and T of a surface or plate at one angle and polarization. `thicknessNm` is that of the front's layers; `solver` is the
 * front's, for callers that have one at hand.
 */
export function polarizedLight(
  { stack, plate }: Part,
  thicknessNm: Float64Array,
  incidenceRad: number,
  polarization: Polarization,
  derivative: boolean,
  solver: SpectrumSolver = new SpectrumSolver(stack, incidenceRad, polarization),
): Light {
  const front = frontLight(solver, thicknessNm, derivative);
  if (plate === undefined) return front;
  const { incident, layers } = stack;
  const turned = new SpectrumSolver(
    turnedStack(stack, layers, incident),
    incidenceRad,
    polarization,
    incident,
  );
  const inner = frontLight(turned, thicknessNm.toReversed(), derivative);
  if (inner.derivative !== undefined) turnColumns(inner.derivative.R, layers.length);
  return addSecondSurface(front, inner, stack, plate, incidenceRad, polarization);
}

/** Turns [wavelength * count + layer] round within each wavelength. */
function turnColumns(slope: Float64Array, count: number): void {
  for (let from = 0; from < slope.length; from += count) slope.subarray(from, from + count).reverse();
}
