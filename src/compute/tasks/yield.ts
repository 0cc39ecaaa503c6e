import * as v from 'valibot';
import { count } from '../../base/schema.ts';
import { checkBatch } from '../../batch/check-batch.ts';
import { batch } from '../../batch/document.ts';
import { newBatch } from '../../batch/new-batch.ts';
import { computeYield, YIELD_RUNS } from '../../batch/plan/yield-plan.ts';
import { defineTask } from '../task.ts';

/** The yield of a batch by itself: the heavier part of `plan`, asked for after every edit. */
export default defineTask({
  name: 'yield',
  summary: 'The share of virtual runs of a batch, with its own monitoring, that meets the drawing.',
  request: v.strictObject({
    batch,
    runs: v.optional(count({ min: 1, max: 100_000 }, 'virtual runs of each side'), YIELD_RUNS),
  }),
  get example() {
    return { batch: newBatch('example'), runs: 20 }; // made when asked for: it searches for a first stack
  },
  async run({ batch: document, runs }, context) {
    checkBatch(document);
    return { ...(await computeYield(document, runs, context)), warnings: [] };
  },
});
