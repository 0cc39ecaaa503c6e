import * as v from 'valibot';
import { checkBatch } from '../../batch/check-batch.ts';
import { batch } from '../../batch/document.ts';
import { newBatch } from '../../batch/new-batch.ts';
import { planPlaces } from '../../batch/plan/places-plan.ts';
import { computePlan } from '../../batch/plan/plan.ts';
import { defineTask } from '../task.ts';

/** The verdict of every place of a load, asked for by the Load station after an edit. */
export default defineTask({
  name: 'places',
  summary: 'Which places of a load meet the drawing when every layer ends as planned, and the spectra there.',
  request: v.strictObject({ batch }),
  get example() {
    return { batch: newBatch('example') }; // made when asked for: it searches for a first stack
  },
  run({ batch: document }) {
    checkBatch(document);
    return { ...planPlaces(document, computePlan(document)), warnings: [] };
  },
});
