import { Random } from '../../src/math/random.ts';
import { GrowingLayer } from '../../src/optics/growing-layer.ts';
import { SpectrumSolver } from '../../src/optics/spectrum-solver.ts';
import { measure, type Timing } from './measure.ts';

const constant = (count: number, n: number, k = 0) => ({
  n: new Float64Array(count).fill(n),
  k: new Float64Array(count).fill(k),
});

/** One time step of a growing layer at one wavelength: ns a step. */
export function growingLayer(k: number): Timing {
  const layers = [constant(1, 2.3), constant(1, 1.46), constant(1, 2.3, k)];
  const stack = {
    wavelengthNm: Float64Array.of(550),
    incident: constant(1, 1),
    layers,
    substrate: constant(1, 1.52),
  };
  const growing = new GrowingLayer(stack, Float64Array.of(60, 90));
  const steps = 2000;
  return measure(steps, () => {
    let sum = 0;
    for (let step = 0; step < steps; step++) {
      growing.grow(0.1 * step);
      sum += growing.reflectance;
    }
    return sum;
  });
}

/** Spectra of 10,000 perturbed 8-layer stacks at 61 wavelengths: ns a stack. */
export function perturbedStacks(): Timing {
  const count = 61;
  const [high, low] = [constant(count, 2.3), constant(count, 1.46)];
  const stack = {
    wavelengthNm: Float64Array.from({ length: count }, (_, i) => 420 + (260 * i) / (count - 1)),
    incident: constant(count, 1),
    layers: Array.from({ length: 8 }, (_, j) => (j % 2 === 0 ? high : low)),
    substrate: constant(count, 1.52),
  };
  const solver = new SpectrumSolver(stack, 0, 's');
  const random = new Random(5);
  const stacks = Array.from({ length: 10_000 }, () =>
    Float64Array.from({ length: 8 }, () => 60 + 2 * random.uniform()),
  );
  const R = new Float64Array(count);
  const T = new Float64Array(count);
  return measure(stacks.length, () => {
    let sum = 0;
    for (const thicknessNm of stacks) {
      solver.spectrum(thicknessNm, R, T);
      sum += R[30]!;
    }
    return sum;
  });
}
