import type { TestProject } from 'vitest/node';
import { nestCircles } from '../../../src/chamber/nest.ts';
import { answerRequest } from '../../../src/compute/answer-request.ts';
import task from '../../../src/compute/tasks/rehearse.ts';
import { SHARED_NESTINGS, SHARED_REHEARSAL } from '../../fixtures/shared-request.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** What Node answers to `SHARED_REHEARSAL`, as JSON. */
    nodeRehearsal: string;
    /** Where Node places the parts of `SHARED_NESTINGS`, as JSON. */
    nodeNestings: string;
  }
}

/** Runs in Node before the tests in the browser, which compare their own answers with these. */
export default async function answerInNode({ provide }: TestProject): Promise<void> {
  const outcome = await answerRequest(task, SHARED_REHEARSAL, false);
  if (outcome.kind !== 'answer') throw new Error(JSON.stringify(outcome));
  provide('nodeRehearsal', outcome.json);
  provide('nodeNestings', JSON.stringify(SHARED_NESTINGS.map((request) => nestCircles(request).positions)));
}
