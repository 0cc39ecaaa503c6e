import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

/** The folders of src from the ground up, and what each may import besides itself. */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  base: [],
  math: ['base'],
  materials: ['base', 'math'],
  optics: ['base', 'math'],
  chamber: ['base', 'math'],
  design: ['base', 'math', 'materials', 'optics'],
  monitor: ['base', 'math', 'materials', 'optics', 'chamber'],
  batch: ['base', 'math', 'materials', 'optics', 'chamber', 'design', 'monitor'],
  inspect: ['base', 'math', 'materials', 'optics', 'chamber', 'design', 'monitor', 'batch'],
  compute: ['base', 'math', 'materials', 'optics', 'chamber', 'design', 'monitor', 'batch', 'inspect'],
  elements: ['base', 'compute'],
  app: [
    'base',
    'math',
    'materials',
    'optics',
    'chamber',
    'design',
    'monitor',
    'batch',
    'inspect',
    'compute',
    'elements',
  ],
  cli: ['base', 'math', 'materials', 'optics', 'chamber', 'design', 'monitor', 'batch', 'inspect', 'compute'],
};

/** Only these folders may use Node's own modules. */
const NODE_FOLDERS = ['cli'];
const NODE_FILES = ['compute/node-threads.ts'];

const source = fileURLToPath(new URL('../../src', import.meta.url));
const files = readdirSync(source, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts'))
  .map((file) => file.replaceAll('\\', '/'));

interface Import {
  readonly from: string;
  readonly specifier: string;
  readonly typeOnly: boolean;
}

function importsOf(file: string): Import[] {
  const code = readFileSync(join(source, file), 'utf8').replace(/^\s*(\/\/|\*).*$/gm, '');
  const found = code.matchAll(
    /(?:^|\n)\s*(?:import|export)\s+(type\s)?[^;'"]*?from\s+['"]([^'"]+)['"]|(?:^|\n)\s*import\s+['"]([^'"]+)['"]|import\(\s*['"]([^'"]+)['"]\s*\)/g,
  );
  return [...found].map((match) => ({
    from: file,
    specifier: match[2] ?? match[3] ?? match[4] ?? '',
    typeOnly: match[1] !== undefined,
  }));
}

/** The folder of src that a relative import leads to, or undefined where it leads elsewhere. */
function folderOf({ from, specifier }: Import): string | undefined {
  if (!specifier.startsWith('.')) return undefined;
  const target = relative(source, resolve(join(source, dirname(from)), specifier));
  return target.startsWith('..') ? undefined : target.split('/')[0];
}

const all = files.flatMap(importsOf);

describe('imports', () => {
  it('were found at all', () => {
    expect(all.length).toBeGreaterThan(3);
  });

  it('point only to folders below, but for types that elements take', () => {
    const wrong = all.filter((item) => {
      const own = item.from.split('/')[0] ?? '';
      const target = folderOf(item);
      if (target === undefined || target === own) return false;
      if (own === 'elements' && item.typeOnly) return false;
      return !(MAY_IMPORT[own] ?? []).includes(target);
    });
    expect(wrong.map((item) => `${item.from} imports ${item.specifier}`)).toEqual([]);
  });

  it('name files with their ending, so that they work unbundled', () => {
    const wrong = all.filter(
      (item) => item.specifier.startsWith('.') && !/\.(ts|json|css)(\?\w+)?$/.test(item.specifier),
    );
    expect(wrong.map((item) => `${item.from} imports ${item.specifier}`)).toEqual([]);
  });

  it("take Node's own modules only in the command and in the thread adapter", () => {
    const wrong = all.filter(
      (item) =>
        item.specifier.startsWith('node:') &&
        !NODE_FOLDERS.includes(item.from.split('/')[0] ?? '') &&
        !NODE_FILES.includes(item.from),
    );
    expect(wrong.map((item) => `${item.from} imports ${item.specifier}`)).toEqual([]);
  });

  it('make no circle', () => {
    const edges = new Map<string, string[]>();
    for (const item of all) {
      if (!item.specifier.startsWith('.') || item.typeOnly) continue;
      const target = relative(source, resolve(join(source, dirname(item.from)), item.specifier));
      edges.set(item.from, [...(edges.get(item.from) ?? []), target]);
    }
    const done = new Set<string>();
    const circles: string[] = [];
    const visit = (file: string, trail: readonly string[]): void => {
      if (trail.includes(file)) circles.push([...trail.slice(trail.indexOf(file)), file].join(' > '));
      if (done.has(file) || trail.includes(file)) return;
      for (const next of edges.get(file) ?? []) visit(next, [...trail, file]);
      done.add(file);
    };
    for (const file of files) visit(file, []);
    expect(circles).toEqual([]);
  });
});
