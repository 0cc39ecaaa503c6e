import * as v from 'valibot';
import { count, list, quantity } from '../../base/schema.ts';
import { checkBatch } from '../../batch/check-batch.ts';
import { batch } from '../../batch/document.ts';
import { newBatch } from '../../batch/new-batch.ts';
import { computePlan } from '../../batch/plan/plan.ts';
import { tryWay } from '../../batch/plan/ways.ts';
import { defineTask } from '../task.ts';

/** Other ways to run a lot, each the whole chain computed anew: asked for by the Run station when edits have paused. */
export default defineTask({
  name: 'ways',
  summary: 'The hours that other rates, pumps or racks would save for the lot of a batch.',
  request: v.strictObject({
    batch,
    trials: list(
      v.strictObject({
        rates: v.exactOptional(quantity('', { min: 0.01, max: 10 }, 'factor on the rate of every material')),
        pumps: v.exactOptional(quantity('', { min: 0.01, max: 10 }, 'factor on the speed of every pump')),
        racks: v.exactOptional(count({ min: 1, max: 60 }, 'on the carrier')),
        rackDiameterMm: v.exactOptional(quantity('mm', { min: 10, max: 3000 })),
      }),
      { min: 1, max: 20 },
      'what is tried, each by itself',
    ),
  }),
  get example() {
    return { batch: newBatch('example'), trials: [{ rates: 1.25 }, { racks: 3 }] }; // made when asked for
  },
  async run({ batch: document, trials }, { signal, progress }) {
    checkBatch(document);
    const plan = computePlan(document);
    const ways = [];
    for (const [index, trial] of trials.entries()) {
      const result = tryWay(document, plan, trial);
      ways.push(typeof result === 'string' ? { fault: result } : result);
      progress?.((index + 1) / trials.length, 'other ways');
      await new Promise((resolve) => setTimeout(resolve, 0));
      signal?.throwIfAborted();
    }
    return { ways, warnings: [] };
  },
});
