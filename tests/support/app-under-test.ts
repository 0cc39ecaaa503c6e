import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { fileURLToPath } from 'node:url';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright';
import { staticServer } from '../../src/cli/static-server.ts';
import { findChromium } from './chromium.ts';

const built = fileURLToPath(new URL('../../dist/app', import.meta.url));

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
}

export interface Visit {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Errors and warnings that the page has put out so far. */
  readonly faults: string[];
}

let started: Promise<AppUnderTest> | undefined;

/**
 * The app, served and with its browser started. All files of a worker share one, which ends with the worker: their windows
 * have storages of their own.
 */
export function startApp(): Promise<AppUnderTest> {
  started ??= start();
  return started;
}

async function start(): Promise<AppUnderTest> {
  const server = staticServer(built) as Server;
  server.unref();
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
        reducedMotion: 'reduce', // a carrier that turns costs as much as all else
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
