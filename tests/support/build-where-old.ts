import { execSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
/** What the build writes last. */
const built = join(root, 'dist', 'custom-elements.json');

/** Builds everything where a source is newer than what is built, once for all tests. */
export default function buildWhereOld(): void {
  const since = existsSync(built) ? statSync(built).mtimeMs : 0;
  const sources = ['src', 'materials', 'demo'].map((folder) => join(root, folder));
  const settings = ['vite.config.ts', 'package.json'].map((file) => statSync(join(root, file)).mtimeMs);
  if (Math.max(...sources.map(newest), ...settings) <= since) return;
  execSync('npm run build', { cwd: root, env: { ...process.env, NODE_ENV: 'production' }, stdio: 'pipe' });
}

function newest(folder: string): number {
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' });
  return Math.max(...files.map((file) => statSync(join(folder, file)).mtimeMs));
}
