import type { TestProject } from 'vitest/node';
import { nestCircles } from '../../../src/chamber/nest.ts';
import { answerRequest } from '../../../src/compute/answer-request.ts';
import { TASKS } from '../../../src/compute/tasks.ts';
import { exampleRequests, SHARED_NESTINGS, sharedRequests } from '../../fixtures/shared-request.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** What Node answers to each of `sharedRequests` and `exampleRequests` on one thread, as JSON. */
    nodeAnswers: Readonly<Record<string, string>>;
    /** Where Node places the parts of `SHARED_NESTINGS`, as JSON. */
    nodeNestings: string;
  }
}

/** Runs in Node before the tests in the browser, which compare their own answers with these. */
export default async function answerInNode({ provide }: TestProject): Promise<void> {
  const answers: Record<string, string> = {};
  for (const [name, request] of Object.entries({ ...sharedRequests(), ...(await exampleRequests()) })) {
    const outcome = await answerRequest(await TASKS[name]!(), request, false);
    if (outcome.kind !== 'answer') throw new Error(JSON.stringify(outcome));
    answers[name] = outcome.json;
  }
  provide('nodeAnswers', answers);
  provide('nodeNestings', JSON.stringify(SHARED_NESTINGS.map((request) => nestCircles(request).positions)));
}
