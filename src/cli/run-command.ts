import { InputError } from '../base/errors.ts';
import { VERSION } from '../base/version.ts';
import type { AnyTask, Papers } from '../compute/task.ts';
import { type CommandLine, readCommandLine } from './command-line.ts';
import { progressBar } from './progress-bar.ts';
import { readRequest } from './read-request.ts';
import type { Terminal } from './terminal.ts';
import { UsageError } from './usage-error.ts';

/** The exit codes of the command; a fault of the program itself has the code that sysexits.h gives it. */
export const EXIT = { answered: 0, wrongRequest: 1, wrongUsage: 2, ownFault: 70, interrupted: 130 } as const;

export type TaskRegistry = Readonly<Record<string, () => Promise<AnyTask>>>;
type RunLine = Extract<CommandLine, { kind: 'run' }>;

/**
 * Does what the words after the command's name ask for and returns the exit code. Standard output gets the
 * answer and nothing else; a fault is one line on standard error.
 */
export async function runCommand(
  words: readonly string[],
  terminal: Terminal,
  tasks: TaskRegistry,
): Promise<number> {
  try {
    const line = readCommandLine(words);
    switch (line.kind) {
      case 'version':
        await terminal.print(`${VERSION}\n`);
        return EXIT.answered;
      case 'help':
        await terminal.print(await (await import('./help.ts')).commandHelp(tasks));
        return EXIT.answered;
      case 'task-help':
        await terminal.print((await import('./help.ts')).taskHelp(await taskNamed(line.task, tasks)));
        return EXIT.answered;
      case 'task-schema': {
        const { jsonSchemaOf } = await import('../compute/json-schema.ts');
        const { request } = await taskNamed(line.task, tasks);
        await terminal.print(`${JSON.stringify(jsonSchemaOf(request), undefined, 2)}\n`);
        return EXIT.answered;
      }
      case 'run':
        return await runLine(line, terminal, tasks);
    }
  } catch (error) {
    return complainOf(error, terminal);
  }
}

function taskNamed(name: string, tasks: TaskRegistry): Promise<AnyTask> {
  requireTask(name, tasks);
  return tasks[name]!();
}

function requireTask(name: string, tasks: TaskRegistry): void {
  if (!Object.hasOwn(tasks, name))
    throw new UsageError(`unknown task "${name}"; the tasks are ${Object.keys(tasks).join(', ')}`);
}

async function runLine(line: RunLine, terminal: Terminal, tasks: TaskRegistry): Promise<number> {
  requireTask(line.task, tasks); // the thread loads it
  const option = paperOption(line);
  if (option !== undefined && (await taskNamed(line.task, tasks)).papers === undefined)
    throw new UsageError(`the task "${line.task}" has no option ${option}`);

  const place = line.file ?? 'standard input';
  const request = readRequest(await bytesOf(line.file, terminal), place);
  const bar = line.progress ? progressBar(terminal) : undefined;
  const outcome = await terminal.runTask(line.task, request, option !== undefined, bar?.update);
  bar?.clear();
  switch (outcome.kind) {
    case 'wrong-request':
      throw new InputError(outcome.path === '' ? 'request' : outcome.path, outcome.reason);
    case 'own-fault':
      throw new Error(outcome.message);
    case 'answer':
      if (outcome.papers !== undefined) await writePapers(outcome.papers, line, terminal);
      await terminal.print(`${outcome.json}\n`);
      return EXIT.answered;
  }
}

/** The first option that asks for papers. */
function paperOption({ htmlFile, csvFolder, certificateFolder }: RunLine): string | undefined {
  if (htmlFile !== undefined) return '--html';
  if (csvFolder !== undefined) return '--csv';
  return certificateFolder === undefined ? undefined : '--certificates';
}

async function bytesOf(file: string | undefined, terminal: Terminal): Promise<Uint8Array> {
  if (file === undefined) return terminal.readStandardInput();
  try {
    return await terminal.readFile(file);
  } catch (error) {
    if (error instanceof InputError) throw error;
    throw new InputError(file, `cannot be read: ${systemFault(error)}`);
  }
}

async function writePapers(
  { html, tables, certificates = [] }: Papers,
  line: RunLine,
  terminal: Terminal,
): Promise<void> {
  const files: [string, string][] = [];
  if (line.htmlFile !== undefined) files.push([line.htmlFile, html]);
  if (line.csvFolder !== undefined)
    for (const { name, csv } of tables) files.push([`${line.csvFolder}/${name}.csv`, csv]);
  if (line.certificateFolder !== undefined)
    for (const page of certificates) files.push([`${line.certificateFolder}/${page.name}.html`, page.html]);
  for (const [path, text] of files) {
    try {
      await terminal.writeFile(path, text);
    } catch (error) {
      throw new InputError(path, `cannot be written: ${systemFault(error)}`);
    }
  }
}

/** What the system said about a file, in words. */
export function systemFault(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  const words: Readonly<Record<string, string>> = {
    ENOENT: 'there is no such file or folder',
    EISDIR: 'it is a folder',
    ENOTDIR: 'a part of its path is a file, not a folder',
    EEXIST: 'a part of its path is a file, not a folder',
    EACCES: 'permission is denied',
    EPERM: 'permission is denied',
    ENOSPC: 'the disk is full',
    EROFS: 'the disk is read-only',
    ERR_FS_FILE_TOO_LARGE: 'it is too large',
  };
  return words[code] ?? (code === '' ? 'the system refused' : `the system said ${code}`);
}

function complainOf(error: unknown, terminal: Terminal): number {
  const say = (sentence: string) => terminal.complain(`coatwright: ${oneLine(sentence)}\n`);
  if (error instanceof InputError) {
    say(error.message);
    return EXIT.wrongRequest;
  }
  if (error instanceof UsageError) {
    say(error.message);
    return EXIT.wrongUsage;
  }
  say(`fault of the program, please report it: ${error instanceof Error ? error.message : String(error)}`);
  return EXIT.ownFault;
}

function oneLine(text: string): string {
  return text.replace(/\s*[\r\n]+\s*/g, ' ');
}
