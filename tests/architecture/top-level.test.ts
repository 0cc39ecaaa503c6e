import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

/** What may stand at the top; whatever else the project needs has its place in one of the folders. */
const ALLOWED = [
  ...['package.json', 'package-lock.json', 'tsconfig.json', 'vite.config.ts', 'README.md', 'DEVELOPERS.md'],
  ...['src', 'tests', 'materials', 'demo'],
];

it('the top level holds the manifest, the configuration, two pages, four folders and dot files', () => {
  const root = fileURLToPath(new URL('../..', import.meta.url));
  const files = execFileSync('git', ['ls-files'], { cwd: root, encoding: 'utf8' }).trim().split('\n');
  const top = new Set(files.map((file) => file.split('/')[0] ?? ''));
  expect([...top].filter((name) => !name.startsWith('.') && !ALLOWED.includes(name))).toEqual([]);
});
