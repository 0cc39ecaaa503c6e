import * as v from 'valibot';
import { InputError } from '../../base/errors.ts';
import { closedFormDesign } from '../../design/closed-form-design.ts';
import type { DesignResult, FoundStack } from '../../design/found-stack.ts';
import { refineStack } from '../../design/refine-stack.ts';
import { searchStacks } from '../../design/search-stacks.ts';
import { findMaterial } from '../../materials/library.ts';
import { designFields, type LayerKind, readyDesign } from '../design-shapes.ts';
import { breathe, spreadInline } from '../spread.ts';
import { defineTask } from '../task.ts';

/** Work planned for each second of the limit: two cores of the usual kind need about half of it. */
const WORK_PER_S = 11e6;

/** Share of the time limit after which a search ends on a machine too slow for the work; the rest is for the finish. */
const SEARCH_SHARE = 0.8;

/** What a robust stack is to stand where the request names no errors; common practice, no source. */
const USUAL_ERRORS = { relativePercent: 1, absoluteNm: 0, indexPercent: 0 };

/** CONTRACT task 5: stacks that meet requirements, from the materials at hand. */
export default defineTask({
  name: 'design',
  summary: 'Stacks that meet requirements: refined, searched for in the materials at hand, or closed forms.',
  request: v.strictObject(designFields),
  example: {
    incident: 1,
    substrate: '517642',
    pool: ['mgf2', 'al2o3', 'ta2o5'],
    requirements: [{ quantity: 'R', statistic: 'mean', limit: 0.4, bandNm: [430, 670] }],
    maxLayers: 4,
    minThicknessNm: 8,
    search: 'synthesize',
    seed: 1,
    effort: 0.02,
  },
  async run(request, { signal, progress, spread = spreadInline }) {
    signal?.throwIfAborted();
    const { problem, start, kinds, warnings } = readyDesign(request);
    let result: DesignResult;
    if (request.search === 'refine') {
      if (start === undefined)
        throw new InputError('start', 'is missing; to refine takes the layers to begin with');
      await breathe(signal)();
      result = refineStack(problem, start, {
        untilMs: Date.now() + 1000 * request.timeLimitS,
        progress: (fraction) => progress?.(fraction, 'refining thicknesses'),
      });
    } else if (request.search === 'closed-form') {
      result = closedFormDesign(problem);
    } else {
      // Layers of one material are one layer.
      const isOneMaterial = problem.pool.length + (problem.others?.length ?? 0) === 1;
      const mostLayers = isOneMaterial ? 1 : problem.maxLayers;
      const errors = request.errors ?? (request.goal === 'robust' ? USUAL_ERRORS : undefined);
      result = await searchStacks(problem, {
        seed: request.seed,
        work: request.effort * request.timeLimitS * WORK_PER_S * shareOfWork(mostLayers),
        runJobs: (shared, jobs) => spread('search-job', shared, jobs, signal),
        ...(start === undefined ? {} : { start }),
        ...(errors === undefined ? {} : { errors }),
        wantsRobust: request.goal === 'robust',
        untilMs: Date.now() + 1000 * SEARCH_SHARE * request.timeLimitS,
        progress: (fraction) => progress?.(fraction, 'searching for stacks'),
      });
    }
    signal?.throwIfAborted();
    const [best, ...others] = result.stacks.map((stack) => stackAnswer(stack, kinds));
    return {
      ...best!,
      starts: result.starts,
      alternatives: others,
      warnings: [...warnings, ...result.warnings],
    };
  },
});

/** Few layers need little of the time allowed: their number of local minima grows with that of the layers. */
function shareOfWork(maxLayers: number): number {
  return Math.min(1, 0.05 + 0.02 * maxLayers ** 2);
}

function stackAnswer(
  { layers, merit, achieved, yield: share, form }: FoundStack,
  kinds: readonly LayerKind[],
) {
  const thicknesses = layers.map(({ thicknessNm }) => thicknessNm);
  const named = layers.map(({ place, thicknessNm }) => ({ ...kinds[place]!, thicknessNm }));
  const depositionS = depositionTimeS(named);
  return {
    layers: named,
    achieved,
    merit,
    ...(share === undefined ? {} : { yield: share }),
    ...(form === undefined ? {} : { form: { kind: form.kind, name: form.name, source: form.source } }),
    totalNm: thicknesses.reduce((sum, nm) => sum + nm, 0),
    thinnestNm: Math.min(...thicknesses),
    ...(depositionS === undefined ? {} : { depositionS }),
    materials: [...new Set(layers.map(({ material }) => material))],
  };
}

/**
 * How long the shutter is open, in s, at the usual rate of each material. Undefined where a material has no film data.
 * Pumping, heating and cooling belong to a chamber, which `plan` knows.
 */
function depositionTimeS(
  layers: readonly (LayerKind & { readonly thicknessNm: number })[],
): number | undefined {
  const times = layers.map(({ material, thicknessNm }) => {
    const film = typeof material === 'string' ? findMaterial(material)?.film : undefined;
    return film === undefined ? undefined : thicknessNm / film.rateNmPerS.value;
  });
  return times.includes(undefined) ? undefined : times.reduce<number>((sum, s) => sum + s!, 0);
}
