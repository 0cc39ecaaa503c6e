import { beforeAll, describe, expect, it } from 'vitest';
import { Random } from '../../src/math/random.ts';
import { type AppUnderTest, startApp } from '../support/app-under-test.ts';

/** Windows killed: a few in every run of the tests, 500 by `npm run kill`. */
const KILLS = Number(process.env.COATWRIGHT_KILLS ?? 4);

let app: AppUnderTest;
beforeAll(async () => {
  app = await startApp();
});

describe('a window that is killed amid edits', () => {
  it(
    `has lost no completed edit when the batch is opened again, ${KILLS} times over`,
    async () => {
      const random = new Random(9);
      const { page: first, context } = await app.open();
      await first.close();
      let before = '';
      for (let kill = 0; kill < KILLS; kill++) {
        const page = await context.newPage();
        await page.goto(app.url);
        const title = page.locator('main').getByRole('textbox', { name: 'Title', exact: true });
        await title.waitFor();
        if (kill > 0) expect(await title.inputValue()).toBe(before);
        expect(await page.getByText('cannot be read').count()).toBe(0);

        const client = await context.newCDPSession(page);
        const gone = new Promise<void>((resolve) => page.once('crash', () => resolve()));
        const edits = 1 + random.integer(3);
        for (let edit = 0; edit < edits; edit++) {
          before = `Killed ${kill}, edit ${edit}`;
          await title.fill(before);
          await page.waitForTimeout(random.uniform() * (edit === edits - 1 ? 400 : 120));
        }
        client.send('Page.crash').catch(() => undefined); // never answers: its window is gone
        await gone;
        await page.close();
      }
      await context.close();
    },
    60_000 + 8_000 * KILLS,
  );
});
