import * as v from 'valibot';
import { quantity, word } from '../../src/base/schema.ts';
import { runCommand, type TaskRegistry } from '../../src/cli/run-command.ts';
import type { Terminal } from '../../src/cli/terminal.ts';
import { answerRequest } from '../../src/compute/answer-request.ts';
import { type AnyTask, defineTask } from '../../src/compute/task.ts';

/** What a run of the command left behind. */
export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
  readonly written: Readonly<Record<string, string>>;
}

/** Runs the command in this process, its tasks in the same thread, its files in `files`. */
export async function runWith(
  tasks: TaskRegistry,
  words: readonly string[],
  { stdin = '', files = {} }: { stdin?: string | Uint8Array; files?: Record<string, string> } = {},
): Promise<Ran> {
  let out = '';
  let err = '';
  const written: Record<string, string> = {};
  const terminal: Terminal = {
    readFile: async (path) => {
      const text = files[path];
      if (text === undefined) throw Object.assign(new Error('no such file'), { code: 'ENOENT' });
      return new TextEncoder().encode(text);
    },
    readStandardInput: async () => (typeof stdin === 'string' ? new TextEncoder().encode(stdin) : stdin),
    writeFile: async (path, text) => {
      if (path.startsWith('/locked/')) throw Object.assign(new Error('locked'), { code: 'EACCES' });
      written[path] = text;
    },
    print: async (text) => {
      out += text;
    },
    complain: (text) => {
      err += text;
    },
    barColumns: undefined,
    runTask: async (name, request, wantsPapers, progress) =>
      answerRequest(await tasks[name]!(), request, wantsPapers, progress === undefined ? {} : { progress }),
  };
  const code = await runCommand(words, terminal, tasks);
  return { code, out, err, written };
}

const halve = defineTask({
  name: 'halve',
  summary: 'Half of a length',
  request: v.strictObject({
    lengthMm: quantity('mm', { min: 0, max: 10 }, 'the length to halve'),
    round: v.optional(word(['up', 'down', 'not']), 'not'),
  }),
  example: { lengthMm: 3 },
  run({ lengthMm, round }, { progress }) {
    progress?.(0.5, 'halving');
    const half = lengthMm / 2;
    return { halfMm: round === 'up' ? Math.ceil(half) : half, list: Float64Array.of(half), warnings: [] };
  },
  papers: (_request, { halfMm }) => ({
    html: `<p>${halfMm}</p>`,
    tables: [{ name: 'half', csv: `halfMm\n${halfMm}\n` }],
    certificates: [{ name: 'one', html: '<p>one</p>' }],
  }),
});

/** A task whose answers are wrong in the way that its request asks for. */
const broken = defineTask({
  name: 'broken',
  summary: 'Breaks',
  request: v.strictObject({ how: word(['nan', 'infinity', 'null', 'throw', 'lines']) }),
  example: { how: 'nan' },
  run({ how }) {
    if (how === 'throw') throw new TypeError('x is not a function');
    if (how === 'lines') throw new Error('first\n    at second (file.js:3)\n');
    const value = { nan: Number.NaN, infinity: Number.POSITIVE_INFINITY, null: null }[how];
    return { inner: [{ value }], warnings: [] };
  },
});

/** Two small tasks for tests of the command itself. */
export const SMALL_TASKS: TaskRegistry = {
  halve: async () => halve as AnyTask,
  broken: async () => broken as AnyTask,
};
