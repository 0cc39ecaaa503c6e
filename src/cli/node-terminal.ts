import { mkdir, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { readSmallFile, requireRequestSize } from './read-small-file.ts';
import { runInThread } from './run-in-thread.ts';
import type { Terminal } from './terminal.ts';

/** The terminal that the command was started in. */
export const nodeTerminal: Terminal = {
  readFile: readSmallFile,
  readStandardInput: async () => {
    if (process.stdin.isTTY)
      process.stderr.write('reading the request from the keyboard; end it with Ctrl-D\n');
    const chunks: Uint8Array[] = [];
    let bytes = 0;
    for await (const chunk of process.stdin as AsyncIterable<Uint8Array>) {
      bytes += chunk.length;
      requireRequestSize(bytes);
      chunks.push(chunk);
    }
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
