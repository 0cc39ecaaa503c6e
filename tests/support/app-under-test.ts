import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright';
import { staticServer } from '../../src/cli/static-server.ts';
import { findChromium } from './chromium.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const built = join(root, 'dist', 'app');

/** The built app, served on this machine, with a browser to try it in. */
export interface AppUnderTest {
  readonly url: string;
  readonly browser: Browser;
  /**
   * A fresh window with storage of its own; what goes wrong on the page is collected in `faults`, a request to anywhere but the app's
   * own address among it. The program is not stored
   * for work without a network, but where the options allow service workers.
   */
  open(hash?: string, options?: Parameters<Browser['newContext']>[0]): Promise<Visit>;
  close(): Promise<void>;
}

export interface Visit {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Errors and warnings that the page has put out so far. */
  readonly faults: string[];
}

/** Builds the app where its sources are newer than what is built, serves it, and starts the browser. */
export async function startApp(): Promise<AppUnderTest> {
  buildWhereOld();
  const server = staticServer(built) as Server;
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const url = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
  const browser = await chromium.launch(await findChromium());
  return {
    url,
    browser,
    open: async (hash = '', options = {}) => {
      const context = await browser.newContext({
        viewport: { width: 1440, height: 900 },
        serviceWorkers: 'block',
        ...options,
      });
      const page = await context.newPage();
      const faults = watched(page);
      context.on('request', (request) => {
        const isHome = [url, `blob:${url}`, 'data:', 'about:'].some((start) =>
          request.url().startsWith(start),
        );
        if (!isHome) faults.push(`a request left the machine: ${request.url()}`);
      });
      await page.goto(url + hash);
      await page.locator('app-journey-rail a').first().waitFor();
      return { page, context, faults };
    },
    close: async () => {
      await browser.close();
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}

/** What playwright says where it was told to block service workers. */
const BLOCKED = 'Service Worker registration blocked by Playwright';

/** Collects what a page complains about. */
export function watched(page: Page): string[] {
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.stack ?? error.message));
  page.on('console', (message) => {
    if (message.text() === BLOCKED) return;
    if (['error', 'warning'].includes(message.type())) faults.push(message.text());
  });
  return faults;
}

function buildWhereOld(): void {
  const index = join(built, 'index.html');
  const since = existsSync(index) ? statSync(index).mtimeMs : 0;
  const sources = ['src', 'materials', 'demo'].map((folder) => join(root, folder));
  if (
    sources.every((folder) => newest(folder) <= since) &&
    statSync(join(root, 'vite.config.ts')).mtimeMs <= since
  )
    return;
  execFileSync(process.execPath, [join(root, 'node_modules/vite/bin/vite.js'), 'build', '--mode', 'app'], {
    cwd: root,
    env: { ...process.env, NODE_ENV: 'production' },
    stdio: 'pipe',
  });
}

function newest(folder: string): number {
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' });
  return Math.max(...files.map((file) => statSync(join(folder, file)).mtimeMs));
}
