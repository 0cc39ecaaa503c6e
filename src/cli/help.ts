import type { JsonSchema } from '@valibot/to-json-schema';
import { jsonSchemaOf } from '../compute/json-schema.ts';
import type { AnyTask } from '../compute/task.ts';
import { fieldsHelp } from './fields-help.ts';
import type { TaskRegistry } from './run-command.ts';

/** What `coatwright --help` prints: usage, tasks with a line each, options and exit codes. */
export async function commandHelp(tasks: TaskRegistry): Promise<string> {
  const loaded = await Promise.all(Object.values(tasks).map((load) => load()));
  const width = Math.max(0, ...loaded.map(({ name }) => name.length));
  return `coatwright: thin-film coating runs, from the order to the inspected lot

Usage: coatwright <task> [FILE] [options]

Reads one JSON request from FILE, or from standard input where FILE is - or missing,
and prints one JSON object.

Tasks
${loaded.map(({ name, summary }) => `  ${name.padEnd(width)}  ${summary}`).join('\n')}

Options
  <task> --help       the request's fields with units and limits, and an example
  <task> --schema     the request's JSON Schema
  --progress          a bar on standard error
  --html OUT          plan: also write the printable traveller
  --csv DIR           plan: also write the tables
  --certificates DIR  plan: also write a certificate, or a report, for each logged run
  --help, -h          this page
  --version           the version

Exit codes: 0 answered, 1 wrong request, 2 unknown task or option, 130 interrupted.
`;
}

/** What `coatwright <task> --help` prints: the fields as the schema knows them and an example that works. */
export function taskHelp(task: AnyTask): string {
  const schema: JsonSchema = jsonSchemaOf(task.request);
  const example = JSON.stringify(task.example);
  const papers = task.papers === undefined ? '' : ' [--html OUT] [--csv DIR] [--certificates DIR]';
  return `coatwright ${task.name}: ${task.summary}

Usage: coatwright ${task.name} [FILE] [--progress]${papers}

Fields of the request
${fieldsHelp(schema)}

Example
  printf '%s' '${example.replaceAll("'", "'\\''")}' | coatwright ${task.name}
`;
}
