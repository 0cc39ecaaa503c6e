import type { Page } from 'playwright';
import { afterAll, afterEach, beforeAll, beforeEach, expect, type TestContext } from 'vitest';
import { type AppUnderTest, startApp, type Visit } from './app-under-test.ts';

/** The page that the app opens on by itself. */
const USUAL = '#/batch/eyepiece-field-lens/order';

/** The window of the test that runs, and the app that it visits. */
export interface EachVisit extends Visit {
  readonly app: AppUnderTest;
}

/**
 * Has every test of a file begin in a fresh window and end without a complaint of the page. Call it once, at the file's
 * top; what it returns stands for the window of whichever test runs.
 * @param hash the page that a window opens on.
 * @param arrive what is done in it before the test.
 */
export function visitEach(hash = '', arrive?: Arrive): EachVisit {
  return visits(hash, arrive, (visit) => visit.context.close());
}

/**
 * The same for tests that only edit: they share a window, in which everything is undone after each test, since a window costs more
 * than most tests. What no undo takes away (a record, another batch, a setting) stays for the tests that follow.
 */
export function visitInOneWindow(hash = USUAL, arrive?: Arrive): EachVisit {
  let shared: Visit | undefined;
  afterAll(() => shared?.context.close());
  return visits(
    hash,
    arrive,
    async (visit, { task }) => {
      shared = undefined;
      if (task.result?.state === 'fail') return visit.context.close();
      await undoAll(visit.page);
      // With the batch all goes that its pages had open.
      await showPage(visit.page, '#/batch/laser-window-1064/order');
      await showPage(visit.page, USUAL);
      await undoAll(visit.page);
      shared = visit;
    },
    async () => {
      if (shared !== undefined) await showPage(shared.page, hash);
      return shared;
    },
  );
}

type Arrive = (visit: Visit) => Promise<void>;

function visits(
  hash: string,
  arrive: Arrive | undefined,
  leave: (visit: Visit, context: TestContext) => Promise<void>,
  resume: () => Promise<Visit | undefined> = async () => undefined,
): EachVisit {
  let app: AppUnderTest;
  let visit: Visit;
  beforeAll(async () => {
    app = await startApp();
  });
  beforeEach(async () => {
    visit = (await resume()) ?? (await app.open(hash));
    await arrive?.(visit);
  });
  afterEach(async (context) => {
    const faults = [...visit.faults];
    await leave(visit, context);
    expect(faults).toEqual([]);
  });
  return {
    get app() {
      return app;
    },
    get page() {
      return visit.page;
    },
    get context() {
      return visit.context;
    },
    get faults() {
      return visit.faults;
    },
  };
}

async function undoAll(page: Page): Promise<void> {
  const undo = page.locator('app-batch-bar').getByRole('button', { name: 'Undo', exact: true });
  while ((await undo.count()) > 0 && (await undo.isEnabled())) await undo.click();
}

async function showPage(page: Page, hash: string): Promise<void> {
  await page.evaluate((to) => {
    location.hash = to;
  }, hash);
  const batch = /^#\/batch\/[^/]+\//.exec(hash)?.[0] ?? '#';
  await page.locator(`app-journey-rail a[href^="${batch}"]`).first().waitFor();
}
