import { afterEach, beforeAll, beforeEach, expect } from 'vitest';
import { type AppUnderTest, startApp, type Visit } from './app-under-test.ts';

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
export function visitEach(hash = '', arrive?: (visit: Visit) => Promise<void>): EachVisit {
  let app: AppUnderTest;
  let visit: Visit;
  beforeAll(async () => {
    app = await startApp();
  });
  beforeEach(async () => {
    visit = await app.open(hash);
    await arrive?.(visit);
  });
  afterEach(async () => {
    expect(visit.faults).toEqual([]);
    await visit.context.close();
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
