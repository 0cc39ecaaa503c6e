import * as v from 'valibot';
import { checkBatch } from '../../batch/check-batch.ts';
import { batch } from '../../batch/document.ts';
import { newBatch } from '../../batch/new-batch.ts';
import { bestAim } from '../../batch/plan/best-aim.ts';
import { defineTask } from '../task.ts';

/** The thickness aim with which most lenses are good, asked for by the Load station when edits have paused. */
export default defineTask({
  name: 'aim',
  summary: 'The thickness aim with which most lenses of a load meet the drawing, run errors included.',
  request: v.strictObject({ batch }),
  get example() {
    return { batch: newBatch('example') }; // made when asked for: it searches for a first stack
  },
  async run({ batch: document }, context) {
    checkBatch(document);
    return { ...(await bestAim(document, context)), warnings: [] };
  },
});
