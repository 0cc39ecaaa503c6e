import { describe, expect, it } from 'vitest';
import { Random } from '../../src/math/random.ts';
import type { Medium } from '../../src/optics/medium.ts';
import { SpectrumSolver } from '../../src/optics/spectrum-solver.ts';
import type { StackOnGrid } from '../../src/optics/stack-on-grid.ts';
import { solve } from './support/solve.ts';
import { constant, plainStack } from './support/stacks.ts';

const RAD = Math.PI / 180;

/** Central differences with Richardson's extrapolation: error of order h⁴, and rounding of 1e-15 / step. */
function slopes(of: (shift: number) => readonly number[], step: number): number[] {
  const [more, less, halfMore, halfLess] = [step, -step, step / 2, -step / 2].map(of);
  return more!.map((value, i) => (8 * (halfMore![i]! - halfLess![i]!) - (value - less![i]!)) / (6 * step));
}

type Index = number | readonly [number, number];

/** A stack as it is, or as light meets it from within a medium. */
const seenFrom = (stack: StackOnGrid, within?: Medium): StackOnGrid =>
  within === undefined ? stack : { ...stack, incident: within };

/** Which layers' derivatives are checked: all, or in a high stack those at its ends and where the field is rescaled. */
const checked = (count: number) =>
  count < 100 ? Array.from({ length: count }, (_, j) => j) : [0, 1, 126, 127, 128, 129, count - 1];

function expectSlopes(
  incident: number,
  layers: readonly Index[],
  substrate: Index,
  thicknessNm: readonly number[],
  angleDeg: number,
  within?: Medium,
): void {
  const stack = seenFrom(plainStack([450, 620], incident, layers, substrate), within);
  const angleIn = constant(2, incident);
  const count = layers.length;
  for (const polarization of ['s', 'p'] as const) {
    const solver = new SpectrumSolver(stack, angleDeg * RAD, polarization, angleIn);
    const [R, T] = [new Float64Array(2), new Float64Array(2)];
    const { dR, dT } = solve(stack, thicknessNm, angleDeg * RAD, polarization, angleIn);
    for (const j of checked(count)) {
      const moved = (shift: number) => {
        solver.spectrum(Float64Array.from(thicknessNm).with(j, thicknessNm[j]! + shift), R, T);
        return [...R, ...T];
      };
      const found = [dR[j], dR[count + j], dT[j], dT[count + j]];
      slopes(moved, 0.03).forEach((expected, i) => {
        expect(found[i]).toBeCloseTo(expected, 9);
      });
    }
  }
}

/** Holds the derivative of the reflection coefficient against differences of it. */
function expectAmplitudeSlopes(
  incident: number,
  layers: readonly Index[],
  substrate: Index,
  thicknessNm: readonly number[],
  angleDeg: number,
  within?: Medium,
): void {
  const stack = seenFrom(plainStack([450, 620], incident, layers, substrate), within);
  const count = layers.length;
  for (const polarization of ['s', 'p'] as const) {
    const solver = new SpectrumSolver(stack, angleDeg * RAD, polarization, constant(2, incident));
    const spare = [2, 2, 2 * count, 2 * count].map((length) => new Float64Array(length));
    const amplitude = new Float64Array(4 * count);
    const nm = Float64Array.from(thicknessNm);
    solver.withDerivatives(nm, spare[0]!, spare[1]!, spare[2]!, spare[3]!, amplitude);
    const [re, im] = [new Float64Array(2), new Float64Array(2)];
    for (const j of checked(count)) {
      const moved = (shift: number) => {
        solver.reflectionCoefficient(nm.with(j, nm[j]! + shift), re, im);
        return [...re, ...im];
      };
      const found = [0, 1].flatMap((part) => [amplitude[2 * j + part], amplitude[2 * (count + j) + part]]);
      slopes(moved, 0.03).forEach((expected, i) => {
        expect(found[i]).toBeCloseTo(expected, 9);
      });
    }
  }
}

describe('derivatives of the reflection coefficient', () => {
  it('equal differences for lossless stacks at any angle', () => {
    expectAmplitudeSlopes(1, [2.3, 1.46, 2.3, 1.38], 1.52, [30, 60, 120, 90], 0);
    expectAmplitudeSlopes(1, [2.3, 1.46, 2.3, 1.38], 1.52, [30, 60, 120, 90], 50);
  });

  it('equal differences where layers absorb or are evanescent', () => {
    expectAmplitudeSlopes(1.33, [2.3, [2.1, 0.05], [0.06, 3.6], 1.38], [0.3, 2.8], [30, 60, 12, 90], 62);
    expectAmplitudeSlopes(1.7, [2.1, 1.38, 2.1], 1, [80, 120, 60], 65);
  });

  it('equal differences where light arrives from within a medium that absorbs', () => {
    expectAmplitudeSlopes(1, [2.3, 1.46, [2.1, 0.05]], 1, [30, 60, 40], 50, constant(2, 1.6, 0.3));
  });

  it('equal differences for stacks so high that the field is rescaled on the way', () => {
    const layers = Array.from({ length: 150 }, (_, j) => (j % 2 === 0 ? 2.3 : 1.46));
    const thicknessNm = layers.map((n) => 40 / n + n);
    expectAmplitudeSlopes(1, layers, 1.52, thicknessNm, 10);
    const lossy = layers.map((n) => [n, 1e-4] as const);
    expectAmplitudeSlopes(1, lossy, 1.52, thicknessNm, 10);
  });
});

describe('derivatives with respect to thickness', () => {
  it('equal differences for lossless stacks at any angle', () => {
    expectSlopes(1, [2.3, 1.46, 2.3, 1.38], 1.52, [30, 60, 120, 90], 0);
    expectSlopes(1, [2.3, 1.46, 2.3, 1.38], 1.52, [30, 60, 120, 90], 50);
  });

  it('equal differences for absorbing stacks and substrates', () => {
    const layers = [2.3, [2.1, 0.05], [0.06, 3.6], 1.38] as const;
    expectSlopes(1, layers, [1.52, 0], [30, 60, 12, 90], 0);
    expectSlopes(1.33, layers, [0.3, 2.8], [30, 60, 12, 90], 62);
  });

  it('equal differences where layers are evanescent and where nothing is transmitted', () => {
    expectSlopes(1.7, [2.1, 1.38, 2.1], 1.7, [80, 120, 60], 65);
    expectSlopes(1.7, [2.1, 1.38, 2.1], 1, [80, 120, 60], 65);
  });

  it('equal differences where light arrives from within a medium that absorbs', () => {
    expectSlopes(1, [2.3, 1.46, [2.1, 0.05]], [1.2, 0.1], [30, 60, 40], 50, constant(2, 1.6, 0.3));
  });

  it('equal differences for a hundred and fifty layers, across the points where the field is rescaled', () => {
    const random = new Random(7);
    const lossless = Array.from({ length: 150 }, (_, j) => (j % 2 === 0 ? 2.1 : 1.46));
    const thicknessNm = lossless.map(() => 40 + 60 * random.uniform());
    expectSlopes(1, lossless, 1.52, thicknessNm, 20);
    const lossy = lossless.map((n) => [n, 1e-4] as const);
    expectSlopes(1, lossy, 1.52, thicknessNm, 20);
  });

  it('follow the closed form of a single layer', () => {
    // R of one lossless layer at normal incidence (Born & Wolf, sec. 1.6.4):
    // T = 4 n0 n1² ns / (n1² (n0 + ns)² cos² δ + (n0 ns + n1²)² sin² δ), so that
    // dT/dδ = −T² (((n0 ns + n1²)² − n1² (n0 + ns)²) sin 2δ) / (4 n0 n1² ns).
    const [n0, n1, ns, wavelength, thickness] = [1, 1.38, 1.52, 550, 61];
    const { T, dT } = solve(plainStack([wavelength], n0, [n1], ns), [thickness]);
    const kappa = (2 * Math.PI * n1) / wavelength;
    const bend = (n0 * ns + n1 * n1) ** 2 - n1 * n1 * (n0 + ns) ** 2;
    const expected =
      (-T[0]! * T[0]! * bend * Math.sin(2 * kappa * thickness) * kappa) / (4 * n0 * n1 * n1 * ns);
    expect(dT[0]! / expected).toBeCloseTo(1, 12);
  });

  it('vanish for R where an absorbing layer above is opaque', () => {
    const { dR, dT } = solve(plainStack([550], 1, [1.38, [1.0, 6.6]], 1.52), [100, 1e6]);
    expect(Math.abs(dR[0]!)).toBeLessThan(1e-15);
    expect(Math.abs(dR[1]!)).toBeLessThan(1e-15);
    expect(dT[0]).toBe(0);
  });
});
