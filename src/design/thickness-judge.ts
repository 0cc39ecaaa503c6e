import { RAD_PER_DEG } from '../base/constants.ts';
import { SpectrumSolver } from '../optics/spectrum-solver.ts';
import type { CoatedSurface } from './coated-surface.ts';
import { polarizationsOf } from './light-channel.ts';
import { type Light, lightStatistic } from './light-statistic.ts';
import type { Requirement } from './requirement.ts';
import { opticalThicknessNm } from './sample-surface.ts';
import { bandGrid, meanWeights, pointsForBand } from './wavelength-grid.ts';

/** A value met by rounding alone counts as met: 1e-9 of a percent. */
const ROUNDING_PERCENT = 1e-9;

interface Channel extends Light {
  readonly solvers: readonly SpectrumSolver[];
}

interface Judged {
  readonly requirement: Requirement;
  readonly channels: readonly Channel[];
  readonly weights: Float64Array;
}

/**
 * Tells for many sets of thicknesses of one surface whether all requirements are met: tables are made once,
 * then nothing is allocated. The grids and means are those of `evaluateRequirements`.
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
          R: new Float64Array(wavelengthNm.length),
          T: new Float64Array(wavelengthNm.length),
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

  #meets({ requirement, weights }: Judged, { solvers, R, T }: Channel, thicknessNm: Float64Array): boolean {
    const count = R.length;
    const reflectance = this.#scratch.subarray(0, count);
    const transmittance = this.#scratch.subarray(count, 2 * count);
    R.fill(0);
    T.fill(0);
    for (const solver of solvers) {
      solver.spectrum(thicknessNm, reflectance, transmittance);
      for (let i = 0; i < count; i++) {
        R[i]! += reflectance[i]! / solvers.length;
        T[i]! += transmittance[i]! / solvers.length;
      }
    }
    const value = 100 * lightStatistic(requirement, { R, T }, weights);
    const margin = (requirement.sense === 'below' ? 1 : -1) * (requirement.limit - value);
    return margin >= -ROUNDING_PERCENT;
  }
}
