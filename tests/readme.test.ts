import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { delimiter, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildCommand } from './support/built-command.ts';

const root = fileURLToPath(new URL('..', import.meta.url));
const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as {
  scripts: Record<string, string>;
};
const pages = ['README.md', 'DEVELOPERS.md'].map((name) => ({
  name,
  text: readFileSync(join(root, name), 'utf8'),
}));

/** The shell commands that the pages show, one a line. */
const commands = pages.flatMap(({ text }) =>
  [...text.matchAll(/^```sh\n([\s\S]*?)^```$/gm)].flatMap(([, block = '']) => block.trim().split('\n')),
);
const npmCommands = commands.filter((command) => command.startsWith('npm '));
const taskCommands = commands.filter((command) => command.includes('npx coatwright'));

let built: Awaited<ReturnType<typeof buildCommand>>;
let path = '';
/** Where the commands are run, so that what they write stays out of the project; `demo` is there too. */
let place = '';

beforeAll(async () => {
  built = await buildCommand('readme');
  // `npx coatwright` would run this very file; a stand-in named npx does so without npm's own checks.
  const folder = join(built.bin, '..', 'path');
  mkdirSync(folder, { recursive: true });
  place = join(built.bin, '..', 'place');
  mkdirSync(place);
  symlinkSync(join(root, 'demo'), join(place, 'demo'));
  const script = join(built.bin, 'coatwright.js');
  writeFileSync(join(folder, 'npx'), `#!/bin/sh\nshift\nexec "${process.execPath}" "${script}" "$@"\n`);
  chmodSync(join(folder, 'npx'), 0o755);
  path = `${folder}${delimiter}${process.env.PATH}`;
});

afterAll(() => built.remove());

describe('the pages README and DEVELOPERS', () => {
  it('show commands of known kinds only', () => {
    expect(commands.filter((c) => !npmCommands.includes(c) && !taskCommands.includes(c))).toEqual([]);
    expect(taskCommands.length).toBeGreaterThan(3);
  });

  it.each(npmCommands)('show "%s", whose scripts exist', (command) => {
    for (const part of command.split('&&').map((words) => words.trim())) {
      if (part === 'npm ci') expect(existsSync(join(root, 'package-lock.json'))).toBe(true);
      else expect(manifest.scripts[part.replace(/^npm (run )?/, '')]).toBeDefined();
    }
  });

  it.each(taskCommands)('show "%s", which works', (command) => {
    const { status, stdout, stderr } = spawnSync('sh', ['-c', command], {
      cwd: place,
      encoding: 'utf8',
      env: { ...process.env, PATH: path },
    });
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).not.toBe('');
  });

  it.each(pages)('link only to what is there ($name)', ({ text }) => {
    const links = [...text.matchAll(/\]\(([^)#\s]+)\)/g)].map(([, link = '']) => link);
    const gone = links.filter((link) => !/^https?:/.test(link) && !existsSync(join(root, link)));
    expect(gone).toEqual([]);
  });

  it('show pictures that have words in their place and weigh less than a megabyte together', () => {
    const pictures = pages.flatMap(({ text }) => [...text.matchAll(/!\[([^\]]*)\]\(([^)]+)\)/g)]);
    expect(pictures.length).toBeGreaterThan(3);
    for (const [, words = ''] of pictures) expect(words.length).toBeGreaterThan(40);
    const bytes = pictures.map(([, , link = '']) => statSync(join(root, link)).size);
    expect(bytes.reduce((sum, size) => sum + size, 0)).toBeLessThan(1_000_000);
  });

  it.each(pages)('name only files that are there ($name)', ({ text }) => {
    const named = [...text.matchAll(/`((?:src|tests|materials|demo)\/[\w/-]+\.\w+)`/g)].map(
      ([, name = '']) => name,
    );
    expect(named.filter((name) => !existsSync(join(root, name)))).toEqual([]);
  });
});
