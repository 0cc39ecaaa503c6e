import { mkdtemp, rm, truncate, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readSmallFile, requireRequestSize } from '../../src/cli/read-small-file.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'coatwright-'));
});
afterAll(() => rm(folder, { recursive: true }));

describe('a file that a request or a person names', () => {
  it('is refused by its size before it is read: 200 MB take neither time nor memory', async () => {
    const path = join(folder, 'huge.csv');
    await writeFile(path, '');
    await truncate(path, 200_000_000);
    const held = process.memoryUsage().rss;
    await expect(readSmallFile(path)).rejects.toThrow(
      `${path}: the file has 200000000 bytes, more than 50000000 bytes`,
    );
    expect(process.memoryUsage().rss - held).toBeLessThan(50_000_000);
  });

  it('is read whole below the limit', async () => {
    const path = join(folder, 'small.csv');
    await writeFile(path, 'nm;R\n');
    expect(Buffer.from(await readSmallFile(path)).toString()).toBe('nm;R\n');
  });

  it('keeps the system’s own fault where it is missing', async () => {
    await expect(readSmallFile(join(folder, 'none'))).rejects.toMatchObject({ code: 'ENOENT' });
  });
});

describe('a request on standard input', () => {
  it('is refused once it has more than 50,000,000 bytes', () => {
    requireRequestSize(50_000_000);
    expect(() => requireRequestSize(50_000_001)).toThrow(
      'standard input: the request has more than 50000000 bytes',
    );
  });
});
