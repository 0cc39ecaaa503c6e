import { SPEED_OF_LIGHT_M_PER_S } from '../base/constants.ts';
import { InputError } from '../base/errors.ts';
import { SpectrumSolver } from './spectrum-solver.ts';
import type { Polarization, StackOnGrid } from './stack-on-grid.ts';

const FS_PER_S = 1e15;
const NM_PER_M = 1e9;
/** Step of the frequency, relative. Rounding makes some 1e-9 / ω of error, a resonance of quality Q some (Q step)^4. */
const STEP = 1e-6;

/**
 * Group delay of the reflected pulse, τ = −dφ/dω in fs, [wavelength], dispersion of all media included; φ is
 * the phase for the time factor exp(+iωt), so that a longer way gives a larger delay.
 *
 * Differences of fourth order over four frequencies that lie 1e-6 and 2e-6 of ω away, each as the angle
 * between two reflection coefficients, which needs no unwrapping. `stackAt` gives the stack on any grid.
 * @throws InputError where a value is not legal, or where nothing is reflected, which leaves no phase.
 */
export function groupDelayFs(
  stackAt: (wavelengthNm: Float64Array) => StackOnGrid,
  wavelengthNm: Float64Array,
  thicknessNm: Float64Array,
  incidenceRad: number,
  polarization: Polarization,
): Float64Array {
  const at = (steps: number) => {
    const stack = stackAt(wavelengthNm.map((nm) => nm / (1 + steps * STEP)));
    const re = new Float64Array(wavelengthNm.length);
    const im = new Float64Array(wavelengthNm.length);
    new SpectrumSolver(stack, incidenceRad, polarization).reflectionCoefficient(thicknessNm, re, im);
    return { re, im };
  };
  const turn = (steps: number) => {
    const [less, more] = [at(-steps), at(steps)];
    return wavelengthNm.map((nm, w) => {
      const [a, b, c, d] = [more.re[w]!, more.im[w]!, less.re[w]!, less.im[w]!];
      if (Math.hypot(a, b) < 1e-12)
        throw new InputError(
          `wavelengthNm[${w}]`,
          `nothing is reflected at ${nm} nm, so that there is no delay`,
        );
      return Math.atan2(b * c - a * d, a * c + b * d);
    });
  };
  const [near, far] = [turn(1), turn(2)];
  return wavelengthNm.map((nm, w) => {
    const omega = (2 * Math.PI * SPEED_OF_LIGHT_M_PER_S * NM_PER_M) / nm;
    const slope = (8 * near[w]! - far[w]!) / (12 * STEP * omega);
    return -slope * FS_PER_S;
  });
}
