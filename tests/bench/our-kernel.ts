import { layerTables } from '../../src/optics/layer-tables.ts';
import { ScalarKernels } from '../../src/optics/scalar-kernels.ts';
import { SpectrumSolver } from '../../src/optics/spectrum-solver.ts';
import type { Workload } from './workloads.ts';

export interface OurKernel {
  readonly run: (round: number) => number;
  /** Over all wavelengths and polarizations, for the thicknesses of round 0. */
  readonly sumOfR: () => number;
}

/** The program's own solver, or its kernels in plain TypeScript alone; forward or with the whole Jacobian. */
export function ourKernel(work: Workload, jacobian: boolean, plain = false): OurKernel {
  const { stack, incidenceRad } = work;
  const solvers = work.polarizations.map((one) =>
    plain
      ? new ScalarKernels(layerTables(stack, incidenceRad, one))
      : new SpectrumSolver(stack, incidenceRad, one),
  );
  const count = work.stack.wavelengthNm.length;
  const size = count * work.stack.layers.length;
  const [R, T, dR, dT] = [count, count, size, size].map((length) => new Float64Array(length)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const thickness = work.thicknessNm.slice();
  const run = (round: number) => {
    thickness[0] = work.thicknessNm[0]! + (round % 7);
    let sum = 0;
    for (const solver of solvers) {
      if (jacobian) solver.withDerivatives(thickness, R, T, dR, dT);
      else solver.spectrum(thickness, R, T);
      sum += R[0]! + T[count - 1]! + (jacobian ? dR[size - 1]! : 0);
    }
    return sum;
  };
  const sumOfR = () => {
    let sum = 0;
    for (const solver of solvers) {
      solver.spectrum(work.thicknessNm, R, T);
      for (const value of R) sum += value;
    }
    return sum;
  };
  return { run, sumOfR };
}
