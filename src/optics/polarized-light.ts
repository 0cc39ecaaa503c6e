import { frontLight, type Light } from './front-light.ts';
import { addSecondSurface, type PlateOnGrid } from './plate.ts';
import { SpectrumSolver } from './spectrum-solver.ts';
import type { Polarization, StackOnGrid } from './stack-on-grid.ts';

/** A coated surface or plate on a grid of wavelengths. */
export interface Part {
  readonly stack: StackOnGrid;
  readonly plate?: PlateOnGrid;
}

/** R and T of a surface or plate at one angle and polarization. `thicknessNm` is that of the front's layers. */
export function polarizedLight(
  { stack, plate }: Part,
  thicknessNm: Float64Array,
  incidenceRad: number,
  polarization: Polarization,
  derivative: boolean,
): Light {
  const front = frontLight(new SpectrumSolver(stack, incidenceRad, polarization), thicknessNm, derivative);
  return plate === undefined
    ? front
    : addSecondSurface(front, stack, thicknessNm, plate, incidenceRad, polarization);
}
