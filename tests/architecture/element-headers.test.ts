import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const folder = fileURLToPath(new URL('../../src/elements', import.meta.url));
const classes = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  .map((file) => file.replaceAll('\\', '/'))
  .filter((file) => file.endsWith('-element.ts'))
  .map((file) => ({ file, name: file.split('/')[0] ?? '', code: readFileSync(`${folder}/${file}`, 'utf8') }));

/** The comment that stands right above the class. */
function headerOf(code: string): string {
  return /\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\s*export class/.exec(code)?.[1] ?? '';
}

const all = (text: string, pattern: RegExp) => [...text.matchAll(pattern)].map((match) => match[1] ?? '');

describe('the headers of elements', () => {
  it('were found at all', () => {
    expect(classes.length).toBeGreaterThan(9);
  });

  it.each(classes)(
    '$name: tag, every property and every event of the class are said, and no other',
    ({ name, code }) => {
      const header = headerOf(code);
      expect(all(header, /@element ([\w-]+)/g)).toEqual([`cw-${name}`]);
      const properties = all(code, /@property\((?:\{[^}]*\})?\) (\w+)/g).sort();
      expect(all(header, /@property (\w+) - \S/g).sort()).toEqual(properties);
      const fired = new Set(all(code, /new (\w+Event)\(/g).filter((event) => event !== 'Event'));
      const said = all(header, /@fires ([\w-]+) - \S/g);
      if (fired.size > 0) expect(said.length).toBe(fired.size);
    },
  );

  it.each(classes)('$name: class, styles and registration are files of their own', ({ file, name }) => {
    const beside = readdirSync(`${folder}/${name}`);
    expect(beside).toContain(`cw-${name}.ts`);
    expect(file).toBe(`${name}/${name}-element.ts`);
  });
});
