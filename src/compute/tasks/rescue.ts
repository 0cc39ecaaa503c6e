import * as v from 'valibot';
import { InputError } from '../../base/errors.ts';
import { list, quantity, yesOrNo } from '../../base/schema.ts';
import { rescueStack } from '../../design/rescue.ts';
import { designFields, readyDesign } from '../design-shapes.ts';
import { breathe } from '../spread.ts';
import { defineTask } from '../task.ts';

/** CONTRACT task 15: what to do with the layers still to come after some were cut wrong. */
export default defineTask({
  name: 'rescue',
  summary: 'Re-optimises the layers still to come after some were deposited wrong, or says to start again.',
  request: v.strictObject({
    ...designFields,
    deposited: list(
      quantity('nm', { min: 0, max: 1e5 }),
      { max: 200 },
      'thickness of each layer already made, in order',
    ),
    topUp: v.optional(yesOrNo(), false),
  }),
  example: {
    substrate: '517642',
    pool: ['mgf2', 'al2o3', 'ta2o5'],
    requirements: [{ quantity: 'R', statistic: 'mean', limit: 0.4, bandNm: [430, 670] }],
    maxLayers: 4,
    start: [
      { material: 'mgf2', thicknessNm: 159.3 },
      { material: 'al2o3', thicknessNm: 52.6 },
      { material: 'ta2o5', thicknessNm: 107.7 },
      { material: 'mgf2', thicknessNm: 92.3 },
    ],
    search: 'refine',
    deposited: [159.3, 58],
  },
  async run({ deposited, topUp, ...request }, { signal, progress }) {
    signal?.throwIfAborted();
    const { problem, start, kinds, warnings } = readyDesign(request);
    if (start === undefined) throw new InputError('start', 'is missing; a rescue takes the planned layers');
    progress?.(0, 'looking for a way on');
    const result = await rescueStack(problem, start, {
      deposited,
      canTopUp: topUp,
      mayRestructure: request.search === 'synthesize',
      seed: request.seed,
      pause: breathe(signal),
    });
    return {
      layers: result.layers.map(({ place, thicknessNm }) => ({ ...kinds[place]!, thicknessNm })),
      achieved: result.achieved,
      changeNm: result.changeNm,
      merit: result.merit,
      planned: result.planned,
      untouched: { achieved: result.untouched.achieved, merit: result.untouched.merit },
      verdict: result.verdict,
      reason: result.reason,
      warnings,
    };
  },
});
