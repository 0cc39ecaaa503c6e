import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { beforeAll, describe, expect, it } from 'vitest';
import { type AppUnderTest, startApp } from '../support/app-under-test.ts';

const built = fileURLToPath(new URL('../../dist/app', import.meta.url));
const KB = 1000;

/**
 * What may be loaded, compressed, before the first station stands; a change that goes over it must either lose
 * weight or say here why it may not. A clearly smaller size is written down here too, so that it stays. The plan of the first
 * screen took in drawn rows, heat limits and racks of several kinds (190 kB); beyond 200 kB parts of it must be fetched later.
 */
const FIRST_KB = { most: 195, least: 130 };
/** What loads behind the first screen: the yield's worker, the library's further data sets, the compiled kernels, the kept history, the watch for new versions. */
const BEHIND_KB = { most: 120, least: 75 };
const BEHIND =
  /\/(worker|further-material-files|compiled-kernels|history-desk|history-shelf|program-updates)-[^/]*\.js$/;

let app: AppUnderTest;
beforeAll(async () => {
  app = await startApp();
});

describe('the first load', () => {
  it('stays within its budget', async () => {
    const { page, context } = await app.open();
    await page.locator('app-order-station').waitFor();
    const load = () =>
      page.evaluate(() =>
        performance.getEntriesByType('resource').map((entry) => new URL(entry.name).pathname),
      );
    const behindLoaded = async () => (await load()).filter((path) => BEHIND.test(path)).length;
    await expect.poll(behindLoaded, { timeout: 60_000 }).toBe(6);
    await page.waitForLoadState('networkidle');
    const loaded = await load();
    // What came behind is of use: the server's policy lets the kernels be compiled.
    const kernels = loaded.find((path) => path.includes('/compiled-kernels-'));
    expect(await page.evaluate(`import('${kernels}').then((own) => own.useCompiledKernels())`)).toBe(true);
    await context.close();
    const files = ['/index.html', ...new Set(loaded)];
    const sizeKb = (paths: readonly string[]) =>
      paths.reduce((sum, path) => sum + gzipSync(readFileSync(join(built, path))).length / KB, 0);
    const first = sizeKb(files.filter((path) => !BEHIND.test(path)));
    const behind = sizeKb(files.filter((path) => BEHIND.test(path)));
    expect(first).toBeLessThan(FIRST_KB.most);
    expect(first).toBeGreaterThan(FIRST_KB.least);
    expect(behind).toBeLessThan(BEHIND_KB.most);
    expect(behind).toBeGreaterThan(BEHIND_KB.least);
  });
});
