import { InputError } from '../base/errors.ts';
import { parse } from '../base/schema.ts';
import { prepareFor } from '../materials/prepare.ts';
import { useCompiledKernels } from '../optics/simd/compiled-kernels.ts';
import { answerJson } from './answer-json.ts';
import type { AnyTask, Papers, TaskContext } from './task.ts';

/** What became of a request; plain data that can cross threads. */
export type Outcome =
  | { readonly kind: 'answer'; readonly json: string; readonly papers?: Papers }
  | { readonly kind: 'wrong-request'; readonly path: string; readonly reason: string }
  | { readonly kind: 'own-fault'; readonly message: string };

/**
 * Runs a task on a request and says what became of it; throws nothing. `wantsPapers` asks for what the
 * task can write besides its answer.
 */
export async function answerRequest(
  task: AnyTask,
  request: unknown,
  wantsPapers: boolean,
  context: TaskContext = {},
): Promise<Outcome> {
  try {
    await prepareFor(request);
    useCompiledKernels();
    const typed = parse(task.request, request);
    const answer = await task.run(typed, context);
    const json = answerJson(answer);
    if (!wantsPapers || task.papers === undefined) return { kind: 'answer', json };
    return { kind: 'answer', json, papers: await task.papers(typed, answer) };
  } catch (error) {
    if (error instanceof InputError) return { kind: 'wrong-request', path: error.path, reason: error.reason };
    return { kind: 'own-fault', message: error instanceof Error ? error.message : String(error) };
  }
}
