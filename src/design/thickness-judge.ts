import { RAD_PER_DEG } from '../base/constants.ts';
import { SpectrumSolver } from '../optics/spectrum-solver.ts';
import type { CoatedSurface } from './coated-surface.ts';
import { polarizationsOf } from './light-channel.ts';
import type { Requirement } from './requirement.ts';
import { opticalThicknessNm } from './sample-surface.ts';
import { bandGrid, meanWeights, pointsForBand } from './wavelength-grid.ts';

/** A value met by rounding alone counts as met: 1e-9 of a percent. */
const ROUNDING_PERCENT = 1e-9;

interface Channel {
  readonly solvers: readonly SpectrumSolver[];
  readonly values: Float64Array;
}

interface Judged {
  readonly requirement: Requirement;
  readonly channels: readonly Channel[];
  readonly weights: Float64Array;
}

/**
 * Tells for many sets of thicknesses of one surface whether all requirements are met: tables are made once,
 * then nothing is allocated. The grids and means are those of `evaluateRequirements`; extrema are refined by the
 * parabola through the outermost point and its neighbours.
 */
export class ThicknessJudge {
  readonly #judged: readonly Judged[];
  readonly #scratch: Float64Array;

  constructor(surface: CoatedSurface, requirements: readonly Requirement[]) {
    this.#judged = requirements.map((requirement) => {
      const thickness = opticalThicknessNm(surface, requirement.bandNm[0]);
      const wavelengthNm = bandGrid(requirement.bandNm, pointsForBand(requirement.bandNm, thickness));
      const stack = {
        wavelengthNm,
        incident: surface.incident(wavelengthNm),
        layers: surface.layers.map(({ index }) => index(wavelengthNm)),
        substrate: surface.substrate(wavelengthNm),
      };
      return {
        requirement,
        weights: meanWeights(wavelengthNm.length),
        channels: requirement.incidenceDeg.map((angle) => ({
          solvers: polarizationsOf(requirement.polarization, angle).map(
            (polarization) => new SpectrumSolver(stack, angle * RAD_PER_DEG, polarization),
          ),
          values: new Float64Array(wavelengthNm.length),
        })),
      };
    });
    const longest = Math.max(0, ...this.#judged.map(({ weights }) => weights.length));
    this.#scratch = new Float64Array(2 * longest);
  }

  /** Whether these thicknesses (nm, from the substrate on) meet every requirement; stops at the first missed. */
  passes(thicknessNm: Float64Array): boolean {
    return this.#judged.every((judged) =>
      judged.channels.every((channel) => this.#meets(judged, channel, thicknessNm)),
    );
  }

  #meets({ requirement, weights }: Judged, { solvers, values }: Channel, thicknessNm: Float64Array): boolean {
    const count = values.length;
    const reflectance = this.#scratch.subarray(0, count);
    const transmittance = this.#scratch.subarray(count, 2 * count);
    values.fill(0);
    for (const solver of solvers) {
      solver.spectrum(thicknessNm, reflectance, transmittance);
      for (let i = 0; i < count; i++) {
        const [R, T] = [reflectance[i]!, transmittance[i]!];
        values[i]! +=
          (requirement.quantity === 'R' ? R : requirement.quantity === 'T' ? T : 1 - R - T) / solvers.length;
      }
    }
    const value = 100 * statistic(requirement.statistic, values, weights);
    const margin = (requirement.sense === 'below' ? 1 : -1) * (requirement.limit - value);
    return margin >= -ROUNDING_PERCENT;
  }
}

function statistic(wanted: Requirement['statistic'], values: Float64Array, weights: Float64Array): number {
  if (wanted === 'mean') return weights.reduce((sum, weight, i) => sum + weight * values[i]!, 0);
  const sign = wanted === 'max' ? 1 : -1;
  let outermost = 0;
  for (let i = 1; i < values.length; i++) if (sign * values[i]! > sign * values[outermost]!) outermost = i;
  const middle = values[outermost]!;
  if (outermost === 0 || outermost === values.length - 1) return middle;
  const [before, after] = [values[outermost - 1]!, values[outermost + 1]!];
  const bend = before - 2 * middle + after;
  return bend === 0 ? middle : middle - ((after - before) / 2) ** 2 / (2 * bend);
}
