import { lightStatistic } from '../../design/light-statistic.ts';
import type { Requirement } from '../../design/requirement.ts';
import { bandGrid, meanWeights, pointsForBand } from '../../design/wavelength-grid.ts';
import type { StackRequest } from '../shapes.ts';
import { resolveStack } from '../shapes.ts';
import { RunSpectra } from './run-spectra.ts';

/** A value met by rounding alone counts as met: 1e-9 of a percent. */
const ROUNDING_PERCENT = 1e-9;

/**
 * Tells for many sets of thicknesses whether all requirements are met, fast: the same band grids and means as the
 * evaluation of a design, extrema refined by the parabola through the outermost point and its neighbours.
 */
export class Judge {
  readonly #requirements: readonly Requirement[];
  readonly #spectra: readonly (readonly RunSpectra[])[];
  readonly #weights: readonly Float64Array[];

  constructor(stack: StackRequest, requirements: readonly Requirement[]) {
    this.#requirements = requirements;
    const grids = requirements.map(({ bandNm }) =>
      bandGrid(bandNm, pointsForBand(bandNm, opticalThicknessNm(stack, bandNm[0]))),
    );
    this.#weights = grids.map((grid) => meanWeights(grid.length));
    this.#spectra = requirements.map(({ incidenceDeg, polarization }, i) =>
      incidenceDeg.map((angle) => new RunSpectra(stack, grids[i]!, angle, polarization)),
    );
  }

  get warnings(): readonly string[] {
    return [...new Set(this.#spectra.flat().flatMap(({ warnings }) => warnings))];
  }

  /** Whether every requirement is met; stops at the first that is not. */
  passes(thicknessNm: Float64Array, indexFactor?: Float64Array): boolean {
    for (const [i, requirement] of this.#requirements.entries())
      for (const spectra of this.#spectra[i]!) {
        spectra.update(thicknessNm, indexFactor);
        const value = 100 * lightStatistic(requirement, spectra, this.#weights[i]!);
        const margin = (requirement.sense === 'below' ? 1 : -1) * (requirement.limit - value);
        if (margin < -ROUNDING_PERCENT) return false;
      }
    return true;
  }
}

function opticalThicknessNm(stack: StackRequest, wavelengthNm: number): number {
  const resolved = resolveStack(stack, Float64Array.of(wavelengthNm));
  return resolved.stack.layers.reduce((sum, { n }, i) => sum + n[0]! * resolved.thicknessNm[i]!, 0);
}
