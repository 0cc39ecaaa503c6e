import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { runInThread } from './run-in-thread.ts';
import type { Terminal } from './terminal.ts';

/** The terminal that the command was started in. */
export const nodeTerminal: Terminal = {
  readFile: (path) => readFile(path),
  readStandardInput: async () => {
    if (process.stdin.isTTY)
      process.stderr.write('reading the request from the keyboard; end it with Ctrl-D\n');
    const chunks: Uint8Array[] = [];
    for await (const chunk of process.stdin) chunks.push(chunk as Uint8Array);
    return Buffer.concat(chunks);
  },
  writeFile: async (path, text) => {
    await mkdir(dirname(path), { recursive: true });
    await writeFile(path, text);
  },
  print: (text) => new Promise((resolve) => process.stdout.write(text, () => resolve())),
  complain: (text) => {
    process.stderr.write(text);
  },
  barColumns: process.stderr.isTTY ? process.stderr.columns : undefined,
  runTask: runInThread,
};
