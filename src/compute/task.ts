import type * as v from 'valibot';
import { parse } from '../base/schema.ts';
import { prepareFor } from '../materials/prepare.ts';
import type { Spread } from './spread.ts';

/** What a running task may use besides its request. */
export interface TaskContext {
  /** Aborts when the answer is no longer wanted; long tasks call `signal.throwIfAborted()` now and then. */
  readonly signal?: AbortSignal;
  /** Told now and then how far the work is (fraction 0..1) and what is being done. */
  readonly progress?: (fraction: number, doing: string) => void;
  /** Reads a file that the request names; absent where there are no files (in the browser). */
  readonly readFile?: (path: string) => Promise<Uint8Array>;
  /** Runs kernels (pure functions on plain data) on several threads; absent: on this one, with the same answer. */
  readonly spread?: Spread;
}

/** What a task can write besides its answer: a page to print and tables. */
export interface Papers {
  /** A whole HTML document that needs no other file. */
  readonly html: string;
  readonly tables: readonly PaperTable[];
  /** One page a logged run, where the task knows of any. */
  readonly certificates?: readonly PaperPage[];
}

/** A whole HTML document; `name` becomes the file `<name>.html`. */
export interface PaperPage {
  readonly name: string;
  readonly html: string;
}

/** One table; `name` becomes the file `<name>.csv`. */
export interface PaperTable {
  readonly name: string;
  readonly csv: string;
}

/**
 * One question that Coatwright answers. The same object serves the headless command, the workers of the
 * app and the tests. `run` gets the request as `request` typed it, defaults filled in, and returns an answer
 * that JSON can carry (typed arrays become lists); every answer lists its warnings.
 */
export interface Task<Schema extends v.GenericSchema, Answer extends { warnings: readonly string[] }> {
  readonly name: string;
  readonly summary: string;
  readonly request: Schema;
  /** A request that works, shown by `--help` and run by a test. */
  readonly example: unknown;
  run(request: v.InferOutput<Schema>, context: TaskContext): Answer | Promise<Answer>;
  /** The papers that belong to an answer; the command writes them with `--html`, `--csv` and `--certificates`. */
  papers?(request: v.InferOutput<Schema>, answer: Answer): Papers | Promise<Papers>;
}

// biome-ignore lint/suspicious/noExplicitAny: the registry holds tasks of every request and answer
export type AnyTask = Task<any, any>;

/** Gives a task its types from its schema and its `run`. */
export function defineTask<Schema extends v.GenericSchema, Answer extends { warnings: readonly string[] }>(
  task: Task<Schema, Answer>,
): Task<Schema, Answer> {
  return task;
}

/**
 * Checks the request and runs the task.
 * @throws InputError where the request is wrong, its path inside the request.
 */
export async function runTask<Schema extends v.GenericSchema, Answer extends { warnings: readonly string[] }>(
  task: Task<Schema, Answer>,
  request: unknown,
  context: TaskContext = {},
): Promise<Answer> {
  await prepareFor(request);
  return task.run(parse(task.request, request), context);
}
