import { readdirSync, readFileSync } from 'node:fs';
import { isBuiltin } from 'node:module';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as {
  dependencies: Record<string, string>;
  devDependencies: Record<string, string>;
};
const source = join(root, 'src');

/** The packages that the files of some folders of src import, with a file for each. */
function packagesOf(wanted: (folder: string) => boolean): Map<string, string> {
  const found = new Map<string, string>();
  for (const file of readdirSync(source, { recursive: true, encoding: 'utf8' })) {
    if (!file.endsWith('.ts') || !wanted(file.split(/[\\/]/)[0] ?? '')) continue;
    const code = readFileSync(join(source, file), 'utf8');
    for (const [, specifier = ''] of code.matchAll(
      /(?:from|import\(|import)\s*['"](@?[a-z][\w./@-]*|virtual:[^'"]+|node:[^'"]+)['"]/g,
    )) {
      if (isBuiltin(specifier) || specifier.startsWith('virtual:')) continue;
      found.set(/^(@[^/]+\/)?[^/]+/.exec(specifier)?.[0] ?? specifier, file);
    }
  }
  return found;
}

const inProgram = (folder: string) => folder === 'app' || folder === 'cli';

describe('the dependencies', () => {
  it('of the library are installed with it', () => {
    const missing = [...packagesOf((folder) => !inProgram(folder))].filter(
      ([name]) => manifest.dependencies[name] === undefined,
    );
    expect(missing).toEqual([]);
  });

  it('of the app and the command are all named', () => {
    const named = { ...manifest.dependencies, ...manifest.devDependencies };
    const missing = [...packagesOf(inProgram)].filter(([name]) => named[name] === undefined);
    expect(missing).toEqual([]);
  });

  it('are pinned: the lock file names one version of each, with a checksum, and no address but that of the registry', () => {
    const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')) as {
      packages: Record<string, { version?: string; resolved?: string; integrity?: string }>;
    };
    const loose = Object.entries(lock.packages).filter(
      ([place, { version = '', resolved = '', integrity = '' }]) =>
        place !== '' &&
        !(
          /^\d/.test(version) &&
          /^sha(1|512)-/.test(integrity) &&
          /^($|https:\/\/registry\.npmjs\.org\/)/.test(resolved)
        ),
    );
    expect(loose.map(([place]) => place)).toEqual([]);
    expect(
      Object.values(manifest.dependencies).filter((version) => !/^\d+\.\d+\.\d+$/.test(version)),
    ).toEqual([]);
  });

  it('each have their reason in DEVELOPERS.md', () => {
    const developers = readFileSync(join(root, 'DEVELOPERS.md'), 'utf8');
    const names = Object.keys({ ...manifest.dependencies, ...manifest.devDependencies });
    const listed = [...developers.matchAll(/^\| `([^`]+)` +\| .{5,} \|$/gm)].map(([, name]) => name);
    expect(names.filter((name) => !listed.includes(name))).toEqual([]);
    expect(listed.filter((name) => !names.includes(name ?? '') && !name?.startsWith('src/'))).toEqual([]);
  });
});
