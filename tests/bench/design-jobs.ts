import { constantIndex } from '../../src/design/coated-surface.ts';
import { Merit } from '../../src/design/merit.ts';
import { meritGrid } from '../../src/design/merit-grid.ts';
import { refineThickness } from '../../src/design/refine.ts';
import type { Requirement } from '../../src/design/requirement.ts';
import { runTrials } from '../../src/design/tolerance/run-trials.ts';
import { trialPlan } from '../../src/design/tolerance/trial-plan.ts';
import { measure, type Timing } from './measure.ts';

const requirement: Requirement = {
  quantity: 'R',
  statistic: 'mean',
  limit: 0.2,
  sense: 'below',
  bandNm: [420, 680],
  incidenceDeg: [0],
  polarization: 'mean',
  weight: 1,
};
const [air, glass] = [constantIndex(1), constantIndex(1.52)];
const films = [constantIndex(1.38), constantIndex(1.62), constantIndex(2.1)];
const materials = [2, 0, 2, 0, 1, 2, 1, 0];
const start = Float64Array.of(20, 40, 30, 20, 60, 90, 20, 80);

/** Refinement of 8 layers at 121 wavelengths until a step promises less than 1e-6 of the merit: ns each. */
export function refinement(): Timing {
  const merit = new Merit(meritGrid([requirement], air, glass, films, 121), materials);
  const options = { bounds: { minNm: 5, maxNm: 350 }, relativeTolerance: 1e-6 };
  return measure(1, () => refineThickness(merit, start, options).merit);
}

/** 10,000 virtual coatings of 8 layers at 61 wavelengths, drawn and judged: ns a coating. */
export function judgedTrials(): Timing {
  const surface = {
    incident: air,
    layers: materials.map((place, layer) => ({ index: films[place]!, thicknessNm: start[layer]! })),
    substrate: glass,
  };
  const plan = trialPlan(surface, [requirement], { relativePercent: 2, absoluteNm: 0, indexPercent: 0 }, 1);
  const block = { block: 0, trials: 2000, keepsSpectra: true };
  return measure(2000, () => runTrials(plan, block).passes);
}
