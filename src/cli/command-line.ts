import { parseArgs } from 'node:util';
import { UsageError } from './usage-error.ts';

/** What a command line asks for. */
export type CommandLine =
  | { readonly kind: 'help' }
  | { readonly kind: 'version' }
  | { readonly kind: 'task-help'; readonly task: string }
  | { readonly kind: 'task-schema'; readonly task: string }
  | {
      readonly kind: 'run';
      readonly task: string;
      /** Absent: standard input. */
      readonly file?: string;
      readonly progress: boolean;
      readonly htmlFile?: string;
      readonly csvFolder?: string;
      readonly certificateFolder?: string;
    };

const OPTIONS = {
  help: { type: 'boolean', short: 'h' },
  version: { type: 'boolean' },
  schema: { type: 'boolean' },
  progress: { type: 'boolean' },
  html: { type: 'string' },
  csv: { type: 'string' },
  certificates: { type: 'string' },
} as const;

/**
 * Reads the words after the command's name.
 * @throws UsageError at an unknown option, an option without its value or a word too many.
 */
export function readCommandLine(words: readonly string[]): CommandLine {
  const { values, positionals } = parsed(words);
  const [task, file, tooMany] = positionals;
  if (tooMany !== undefined) throw new UsageError(`"${tooMany}" is one word too many; a task takes one FILE`);
  if (task === undefined) {
    if (values.version) return { kind: 'version' };
    if (values.help) return { kind: 'help' };
    throw new UsageError('no task is named; "coatwright --help" lists the tasks');
  }
  if (values.help) return { kind: 'task-help', task };
  if (values.schema) return { kind: 'task-schema', task };
  if (values.version) return { kind: 'version' };
  return {
    kind: 'run',
    task,
    progress: values.progress ?? false,
    ...(file === undefined || file === '-' ? {} : { file }),
    ...(values.html === undefined ? {} : { htmlFile: values.html }),
    ...(values.csv === undefined ? {} : { csvFolder: values.csv }),
    ...(values.certificates === undefined ? {} : { certificateFolder: values.certificates }),
  };
}

function parsed(words: readonly string[]) {
  try {
    const read = parseArgs({ args: [...words], options: OPTIONS, allowPositionals: true });
    for (const name of ['html', 'csv', 'certificates'] as const)
      if (read.values[name] === '') throw new UsageError(`option --${name} needs a place to write to`);
    return read;
  } catch (error) {
    if (error instanceof UsageError || !(error instanceof TypeError)) throw error;
    throw new UsageError(inOwnWords(error.message));
  }
}

/** Node's sentence on a wrong option, shortened to what is wrong. */
function inOwnWords(message: string): string {
  const option = /'(-[^'\s]*)/.exec(message)?.[1] ?? '';
  if (message.startsWith('Unknown option'))
    return `unknown option ${option}; "coatwright --help" lists the options`;
  if (message.includes('does not take an argument')) return `option ${lastLong(message)} takes no value`;
  return `option ${lastLong(message)} needs a value`;
}

function lastLong(message: string): string {
  return /--[a-z]+/.exec(message)?.[0] ?? '';
}
