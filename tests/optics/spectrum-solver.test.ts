import { describe, expect, it } from 'vitest';
import { SpectrumSolver } from '../../src/optics/spectrum-solver.ts';

const flat = (n: number, k = 0) => ({ n: Float64Array.of(n), k: Float64Array.of(k) });
const layers = [flat(2.1, 0.01), flat(1.38), flat(1.9, 0.3)];
const stack = { wavelengthNm: Float64Array.of(550), incident: flat(1), layers, substrate: flat(1.52, 0.001) };
const thicknessNm = Float64Array.of(60, 110, 15);

function solve(solver: SpectrumSolver, thickness: Float64Array): [number, number] {
  const R = new Float64Array(1);
  const T = new Float64Array(1);
  solver.spectrum(thickness, R, T);
  return [R[0]!, T[0]!];
}

describe('one surface', () => {
  it('of a quarter wave of 1.38 on 1.52 reflects 1.26 % (thin-film textbook relation)', () => {
    const quarter = { ...stack, layers: [flat(1.38)], substrate: flat(1.52) };
    const [R, T] = solve(new SpectrumSolver(quarter, 0, 's'), Float64Array.of(550 / 4 / 1.38));
    expect(R).toBeCloseTo(0.01260079, 8);
    expect(R + T).toBeCloseTo(1, 14);
  });

  it.each(['s', 'p'] as const)('has derivatives that agree with differences, %s', (polarization) => {
    const solver = new SpectrumSolver(stack, 0.7, polarization);
    const dR = new Float64Array(3);
    const dT = new Float64Array(3);
    solver.withDerivatives(thicknessNm, new Float64Array(1), new Float64Array(1), dR, dT);
    for (let l = 0; l < 3; l++) {
      const [up, down] = [thicknessNm.slice(), thicknessNm.slice()];
      up[l]! += 1e-3;
      down[l]! -= 1e-3;
      const [upR, upT] = solve(solver, up);
      const [downR, downT] = solve(solver, down);
      expect(dR[l]).toBeCloseTo((upR - downR) / 2e-3, 8);
      expect(dT[l]).toBeCloseTo((upT - downT) / 2e-3, 8);
    }
  });

  it('stays finite under a millimetre of absorbing film', () => {
    const [R, T] = solve(new SpectrumSolver(stack, 0, 's'), Float64Array.of(60, 110, 1e6));
    expect(R).toBeCloseTo(((1.9 - 1) ** 2 + 0.09) / ((1.9 + 1) ** 2 + 0.09), 12);
    expect(T).toBe(0);
  });
});
