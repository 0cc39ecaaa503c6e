import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** The command, built by the project's own configuration into a folder of the test's own. */
export async function buildCommand(name: string): Promise<{ bin: string; remove: () => void }> {
  const folder = join(root, 'node_modules', '.cache', `command-${name}-${process.pid}`);
  mkdirSync(folder, { recursive: true });
  await build({
    root,
    mode: 'command',
    logLevel: 'error',
    build: { outDir: join(folder, 'bin'), emptyOutDir: true },
  });
  return { bin: join(folder, 'bin'), remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** What a finished program left behind. */
export interface Finished {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs a Node program to its end. */
export function runNode(script: string, words: readonly string[], stdin = ''): Finished {
  if (!existsSync(script)) throw new Error(`${script} is not built`);
  const { status, stdout, stderr } = spawnSync(process.execPath, [script, ...words], {
    input: stdin,
    encoding: 'utf8',
  });
  return { code: status, out: stdout, err: stderr };
}

/** Starts a Node program; `said` resolves once its output matches, `ended` with its exit code. */
export function startNode(script: string, words: readonly string[], env: Record<string, string> = {}) {
  const child = spawn(process.execPath, [script, ...words], { env: { ...process.env, ...env } });
  let text = '';
  const ended = new Promise<number | null>((resolve) => {
    child.on('close', resolve);
  });
  const said = (pattern: RegExp) =>
    new Promise<RegExpExecArray>((resolve, reject) => {
      const look = () => {
        const found = pattern.exec(text);
        if (found) resolve(found);
      };
      for (const stream of [child.stdout, child.stderr])
        stream.on('data', (chunk) => {
          text += chunk;
          look();
        });
      child.on('close', () => reject(new Error(`it ended and had said: ${text}`)));
      look();
    });
  return { child, ended, said };
}
