import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { publint } from 'publint';
import { formatMessage } from 'publint/utils';
import { describe, expect, it } from 'vitest';
import { VERSION } from '../../src/base/version.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = join(root, 'dist', 'package-user');

/** A program of somebody who uses the package; TypeScript checks it without the browser's types. */
const USER = `
import { SpectrumSolver } from 'coatwright/optics/spectrum-solver';
import { resolveIndex } from 'coatwright/materials/index-spec';

const wavelengthNm: Float64Array = Float64Array.of(550);
const medium = (n: number) => resolveIndex(n, wavelengthNm);
const stack = { wavelengthNm, incident: medium(1), layers: [medium(1.38)], substrate: medium(1.52) };
const solver = new SpectrumSolver(stack, 0, 's');
const R = new Float64Array(1);
const T = new Float64Array(1);
solver.spectrum(Float64Array.of(550 / 4 / 1.38), R, T);
const answer: number = R[0]!;
console.log(answer);
`;

/** Loads every module of the engine, and prints those that fail; a worker's own file needs the worker around it. */
const LOAD_ALL = `
import { readdirSync } from 'node:fs';
const library = new URL('../lib/src/', import.meta.url);
for (const path of readdirSync(library, { recursive: true }))
  if (path.endsWith('.js') && !/^elements|^compute.worker/.test(path))
    await import(new URL(path.replaceAll('\\\\', '/'), library)).catch(({ message }) => console.log(path, message));
`;

describe('the package', () => {
  it('tells one version in package.json and on what it prints', () => {
    const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
    expect(VERSION).toBe(version);
  });

  it('has an engine of which plain Node loads every module', () => {
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, 'load-all.js'), LOAD_ALL);
    const { stdout, stderr } = spawnSync(process.execPath, ['--no-warnings', join(folder, 'load-all.js')], {
      encoding: 'utf8',
    });
    expect(stdout + stderr).toBe('');
    rmSync(folder, { recursive: true });
  });

  it('has exports that publint finds nothing wrong with', async () => {
    const { messages } = await publint({ pkgDir: root, strict: true, pack: false });
    const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
    expect(messages.map((message) => formatMessage(message, manifest))).toEqual([]);
  });

  it('packs the command, the app, every element and the engine, and nothing that only its makers need', () => {
    const { stdout } = spawnSync('npm', ['pack', '--dry-run', '--json', '--ignore-scripts'], {
      cwd: root,
      encoding: 'utf8',
    });
    const [{ files }] = JSON.parse(stdout) as [{ files: { path: string }[] }];
    const packed = new Set(files.map(({ path }) => path));
    const elements = readdirSync(join(root, 'src/elements'), { recursive: true, encoding: 'utf8' })
      .filter((path) => /cw-[\w-]+\.ts$/.test(path))
      .map((path) => `dist/lib/src/elements/${path.replace(/\.ts$/, '')}`);
    expect(elements.length).toBeGreaterThan(8);
    const needed = [
      ...['README.md', 'DEVELOPERS.md', 'dist/bin/coatwright.js', 'dist/bin/serve.js', 'dist/app/index.html'],
      ...[
        'dist/custom-elements.json',
        'materials/mgf2.json',
        'demo/elements.html',
        'demo/pictures/stack.png',
      ],
      ...elements.flatMap((element) => [`${element}.js`, `${element}.d.ts`]),
      ...['optics/spectrum-solver', 'materials/index-spec'].map((path) => `dist/lib/src/${path}.d.ts`),
    ];
    expect(needed.filter((path) => !packed.has(path))).toEqual([]);
    expect([...packed].filter((path) => /^(src|tests|dist\/bench|dist\/package-user)\//.test(path))).toEqual(
      [],
    );
  });

  it('is used with types and without the DOM; a quarter wave of 1.38 on 1.52 reflects 1.26 %', () => {
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, 'user.ts'), USER);
    const compiled = spawnSync(
      process.execPath,
      [
        join(root, 'node_modules/typescript/bin/tsc'),
        '--ignoreConfig',
        ...['--strict', '--noUncheckedIndexedAccess', '--target', 'es2023', '--lib', 'es2023'],
        ...['--module', 'nodenext', '--types', 'node', '--rootDir', folder, '--outDir', folder],
        join(folder, 'user.ts'),
      ],
      { cwd: folder, encoding: 'utf8' },
    );
    expect(compiled.stdout + compiled.stderr).toBe('');
    const ran = spawnSync(process.execPath, ['--no-warnings', join(folder, 'user.js')], { encoding: 'utf8' });
    expect(ran.stderr).toBe('');
    // ((1.38² − 1.52) / (1.38² + 1.52))², Born & Wolf, Principles of Optics, sec. 1.6.4
    expect(Number(ran.stdout)).toBeCloseTo(((1.38 ** 2 - 1.52) / (1.38 ** 2 + 1.52)) ** 2, 12);
    rmSync(folder, { recursive: true });
  });
});
