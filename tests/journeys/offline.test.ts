import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { BrowserContext, Page } from 'playwright';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { staticServer } from '../../src/cli/static-server.ts';
import { type AppUnderTest, startApp, watched } from '../support/app-under-test.ts';
import { figure, goTo, said, setQuantity } from '../support/bench-steps.ts';

const built = fileURLToPath(new URL('../../dist/app', import.meta.url));

let app: AppUnderTest;
let folder = '';
let server: Server | undefined;
let port = 0;
let context: BrowserContext;
let page: Page;
let faults: string[];

beforeAll(async () => {
  app = await startApp();
});

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'coatwright-offline-'));
  cpSync(built, folder, { recursive: true });
  port = 0;
  await serve();
  context = await app.browser.newContext({ viewport: { width: 1440, height: 900 } });
  page = await context.newPage();
  faults = watched(page);
  await page.goto(`http://127.0.0.1:${port}/`);
  await page.locator('app-journey-rail a').first().waitFor();
  await stored();
});
afterEach(async () => {
  await context.close();
  await stop();
  rmSync(folder, { recursive: true });
});

/** Serves the folder as it is now, on the port that was taken first. */
async function serve(): Promise<void> {
  const started = staticServer(folder);
  await new Promise<void>((resolve) => started.listen(port, '127.0.0.1', resolve));
  server = started;
  port = (started.address() as AddressInfo).port;
}

async function stop(): Promise<void> {
  const ended = server;
  server = undefined;
  ended?.closeAllConnections();
  await new Promise((resolve) => (ended === undefined ? resolve(undefined) : ended.close(resolve)));
}

/** Resolves once the page says that it works without a network. */
const stored = () =>
  expect.poll(() => said(page, 'app-batch-bar'), { timeout: 30_000 }).toContain('Works without a network.');

/** Another build: its page differs, so its list of files has another version. */
function buildAnew(): void {
  const index = join(folder, 'index.html');
  writeFileSync(index, readFileSync(index, 'utf8').replace('<body>', '<body data-build="two">'));
  const worker = join(folder, 'service-worker.js');
  const code = readFileSync(worker, 'utf8');
  const changed = code.replace(/version:`[0-9a-f]+`/, 'version:`two`');
  expect(changed).not.toBe(code);
  writeFileSync(worker, changed);
}

const build = (window = page) => window.evaluate(() => document.body.dataset.build);
const offer = (window = page) => window.getByRole('button', { name: 'Save and start the new version' });

describe('without a network, after one visit', () => {
  it('every station opens, figures follow an edit, and the worker gives the yield', async () => {
    await stop();
    await context.setOffline(true);
    await page.reload();
    for (const station of ['Stack', 'Load', 'Run', 'Monitor', 'Inspect', 'Order']) await goTo(page, station);
    await setQuantity(page, 'Good lenses', '200');
    await expect.poll(() => said(page, 'app-journey-rail')).toContain('200 lenses');
    await expect.poll(() => figure(page, 'expected yield'), { timeout: 30_000 }).toMatch(/%$/);
    for (const [hash, words] of [
      ['#/materials/cef3', 'CeF'],
      ['#/batches', 'Batches'],
      ['#/batch/eyepiece-field-lens/traveller', 'Traveller'],
    ]) {
      await page.goto(`http://127.0.0.1:${port}/${hash}`);
      await page.locator('main', { hasText: words! }).waitFor();
    }
    await page.locator('.traveller').waitFor();
    expect(faults).toEqual([]);
    await page.reload();
    await page.locator('.traveller').waitFor();
    expect(await page.locator('.traveller').innerText()).toContain('200 good lenses ordered');
  });

  it('an address that the server does not know leads to the bench too', async () => {
    await stop();
    await page.goto(`http://127.0.0.1:${port}/index.html#/batch/prism-face/order`);
    await page.locator('app-batch-bar .batch', { hasText: 'prism' }).waitFor();
    expect(await page.locator('app-order-station').count()).toBe(1);
  });
});

describe('a new version', () => {
  it('is offered, and starts with the edits that were made a moment before', async () => {
    await stop();
    buildAnew();
    await serve();
    await page.reload();
    await offer().waitFor();
    expect(await build()).toBeUndefined();
    await setQuantity(page, 'Good lenses', '123');
    await offer().click();
    await expect.poll(() => build().catch(() => undefined)).toBe('two');
    await expect.poll(() => said(page, 'app-journey-rail')).toContain('123 lenses');
    expect(await offer().count()).toBe(0);
    expect(faults).toEqual([]);
  });

  it('leaves another window in its work, which goes on with the version before', async () => {
    const other = await context.newPage();
    const otherFaults = watched(other);
    await other.goto(`http://127.0.0.1:${port}/#/batch/prism-face/order`);
    await other.locator('app-order-station').waitFor();
    await stop();
    buildAnew();
    await serve();
    await page.reload();
    await offer().click();
    await expect.poll(() => build().catch(() => undefined)).toBe('two');
    await other.getByText('this one still runs the version before').waitFor();
    expect(await build(other)).toBeUndefined();
    await goTo(other, 'Monitor');
    expect(otherFaults).toEqual([]);
    await offer(other).click();
    await expect.poll(() => build(other).catch(() => undefined)).toBe('two');
  });
});

describe('installing', () => {
  it('is possible: Chromium finds nothing that speaks against it', async () => {
    const session = await context.newCDPSession(page);
    const { installabilityErrors } = await session.send('Page.getInstallabilityErrors');
    // A private context, as every test has, can never install anything.
    expect(installabilityErrors.map(({ errorId }) => errorId).filter((id) => id !== 'in-incognito')).toEqual(
      [],
    );
    const { errors, url } = await session.send('Page.getAppManifest');
    expect(url).toBe(`http://127.0.0.1:${port}/manifest.webmanifest`);
    expect(errors).toEqual([]);
  });
});
