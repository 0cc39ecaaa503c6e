import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const built = join(root, 'dist', 'app');

/** Builds the app where its sources are newer than what is built, once for all journeys. */
export default function buildWhereOld(): void {
  const index = join(built, 'index.html');
  const since = existsSync(index) ? statSync(index).mtimeMs : 0;
  const sources = ['src', 'materials', 'demo'].map((folder) => join(root, folder));
  if (
    sources.every((folder) => newest(folder) <= since) &&
    statSync(join(root, 'vite.config.ts')).mtimeMs <= since
  )
    return;
  execFileSync(process.execPath, [join(root, 'node_modules/vite/bin/vite.js'), 'build', '--mode', 'app'], {
    cwd: root,
    env: { ...process.env, NODE_ENV: 'production' },
    stdio: 'pipe',
  });
}

function newest(folder: string): number {
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' });
  return Math.max(...files.map((file) => statSync(join(folder, file)).mtimeMs));
}
