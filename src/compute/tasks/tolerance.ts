import * as v from 'valibot';
import { count, list } from '../../base/schema.ts';
import { evaluateRequirements } from '../../design/evaluate.ts';
import { requirement } from '../../design/requirement.ts';
import { MOST_TRIALS, runTolerance } from '../../design/tolerance/tolerance.ts';
import { trialPlan } from '../../design/tolerance/trial-plan.ts';
import { bandGrid } from '../../design/wavelength-grid.ts';
import { layerErrors } from '../design-shapes.ts';
import { wavelengthGrid } from '../grid.ts';
import { resolveStack, shortest, stackFields } from '../shapes.ts';
import { spreadInline } from '../spread.ts';
import { surfaceOfRequest } from '../surface-request.ts';
import { defineTask } from '../task.ts';

/** CONTRACT task 6: what manufacturing errors do to a stack. */
export default defineTask({
  name: 'tolerance',
  summary: 'Yield, spectrum bands and sensitivities of a stack under errors of thickness and index.',
  request: v.strictObject({
    ...stackFields,
    requirements: list(requirement, { min: 1, max: 50 }),
    errors: layerErrors,
    trials: v.optional(count({ min: 1, max: MOST_TRIALS }), 1000),
    seed: v.optional(count({ min: 0, max: Number.MAX_SAFE_INTEGER }), 1),
    wavelengthNm: v.exactOptional(wavelengthGrid),
  }),
  example: {
    layers: [
      { material: 'al2o3', thicknessNm: 77.3 },
      { material: 'ta2o5', thicknessNm: 119.6 },
      { material: 'mgf2', thicknessNm: 94.6 },
    ],
    substrate: '517642',
    requirements: [{ quantity: 'R', statistic: 'mean', limit: 0.4, bandNm: [430, 670] }],
    errors: { relativePercent: 2 },
    trials: 1000,
    seed: 1,
  },
  async run({ requirements, errors, trials, seed, wavelengthNm, ...stack }, context) {
    const { signal, progress, spread = spreadInline } = context;
    signal?.throwIfAborted();
    const warnings = new Set(
      requirements.flatMap(({ bandNm }) => resolveStack(stack, bandGrid(bandNm, 61)).warnings),
    );
    const shortestNm = Math.min(
      ...requirements.map(({ bandNm }) => bandNm[0]),
      wavelengthNm === undefined ? Number.POSITIVE_INFINITY : shortest(wavelengthNm),
    );
    const surface = surfaceOfRequest(stack, shortestNm);
    const plan = trialPlan(surface, requirements, errors, seed, wavelengthNm);
    progress?.(0, 'making virtual coatings');
    const result = await runTolerance(plan, trials, (shared, blocks) =>
      spread('tolerance-trials', shared, blocks, signal, (count) =>
        progress?.(count / blocks.length, 'making virtual coatings'),
      ),
    );
    if (errors.relativePercent === 0 && errors.absoluteNm === 0 && errors.indexPercent === 0)
      warnings.add('All errors are 0, so every trial is the stack as planned.');
    if (result.bandTrials < trials)
      warnings.add(
        `The bands are made of the first ${result.bandTrials} trials, the yield of all ${trials}.`,
      );
    const { bands, sensitivity } = result;
    return {
      yield: result.yield,
      yield95: result.yield95,
      percentiles: { wavelengthNm: result.wavelengthNm, R: bands },
      sensitivity: sensitivity.map(({ meritRise }) => meritRise),
      valuePercentPerNm: sensitivity.map(({ valuePercentPerNm }) => valuePercentPerNm),
      requirementYield: result.requirementYield,
      achieved: evaluateRequirements(requirements, surface),
      warnings: [...warnings],
    };
  },
});
