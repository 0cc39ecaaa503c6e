import type { Medium } from '../../../src/optics/medium.ts';
import { SpectrumSolver } from '../../../src/optics/spectrum-solver.ts';
import type { Polarization, StackOnGrid } from '../../../src/optics/stack-on-grid.ts';

export interface Solved {
  readonly R: Float64Array;
  readonly T: Float64Array;
  readonly dR: Float64Array;
  readonly dT: Float64Array;
}

/** R, T and their derivatives by a solver of its own. */
export function solve(
  stack: StackOnGrid,
  thicknessNm: readonly number[],
  incidenceRad = 0,
  polarization: Polarization = 's',
  angleIn?: Medium,
): Solved {
  const solver = new SpectrumSolver(stack, incidenceRad, polarization, angleIn);
  const [count, size] = [solver.wavelengthCount, solver.wavelengthCount * solver.layerCount];
  const [R, T, dR, dT] = [count, count, size, size].map((length) => new Float64Array(length)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  solver.withDerivatives(Float64Array.from(thicknessNm), R, T, dR, dT);
  return { R, T, dR, dT };
}

/** R and T alone, by the kernels without derivatives. */
export function spectrum(
  stack: StackOnGrid,
  thicknessNm: readonly number[],
  incidenceRad = 0,
  polarization: Polarization = 's',
): { R: Float64Array; T: Float64Array } {
  const solver = new SpectrumSolver(stack, incidenceRad, polarization);
  const R = new Float64Array(solver.wavelengthCount);
  const T = new Float64Array(solver.wavelengthCount);
  solver.spectrum(Float64Array.from(thicknessNm), R, T);
  return { R, T };
}
