import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { startApp, type Visit } from '../support/app-under-test.ts';
import { goTo } from '../support/bench-steps.ts';
import { thickZirconia } from '../support/thick-zirconia.ts';

/** The pictures of README are taken by `npm run pictures`; the other tests leave them as they are. */
const isWanted = process.env.COATWRIGHT_PICTURES !== undefined;
const FOLDER = fileURLToPath(new URL('../../demo/pictures/', import.meta.url));
const LINE = '517642, d 32, R1 84.2 R2 -84.2, 400 pcs, AR R avg <= 0.4 % 430-670 nm 0-25';

/** What is done before each picture is taken. */
const PICTURES: Readonly<Record<string, (visit: Visit) => Promise<unknown>>> = {
  order: async ({ page }) => {
    await page.keyboard.press('Alt+n');
    await page.locator('app-new-order-page textarea').fill(LINE);
    await page.getByText('R mean ≤ 0.4 %, 430–670 nm, 0° and 25°').waitFor();
  },
  stack: async ({ page }) => {
    await page.keyboard.press('Alt+2');
    const layer = page.getByRole('spinbutton', { name: 'Front layer 1: thickness' });
    await layer.fill('86');
    await layer.press('Enter');
    await layer.blur();
  },
  load: ({ page }) => page.keyboard.press('Alt+3'),
  monitor: async ({ page }) => {
    await page.keyboard.press('Alt+5');
    await page.evaluate(() => {
      document.documentElement.dataset.theme = 'chamber';
    });
  },
  inspect: async ({ page }) => {
    await page.evaluate(() => {
      document.documentElement.dataset.theme = 'light';
    });
    await goTo(page, 'Inspect');
    await page.locator('app-inspect-station input[type="file"]').setInputFiles({
      name: 'witness-7.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from(thickZirconia()),
    });
    await page.getByRole('region', { name: 'Fitted factors' }).waitFor({ timeout: 60_000 });
  },
};

describe.runIf(isWanted)('the pictures of README', () => {
  it('are taken of the demo, as it is seen on a small screen', async () => {
    const app = await startApp();
    const visit = await app.open('', { viewport: { width: 1320, height: 820 }, colorScheme: 'light' });
    await visit.page.clock.setFixedTime(new Date('2026-11-25T09:00:00'));
    await visit.page.evaluate(() =>
      localStorage.setItem('coatwright-preferences', JSON.stringify({ tourSeen: true })),
    );
    await visit.page.reload();
    await visit.page.locator('app-order-station').waitFor();
    mkdirSync(FOLDER, { recursive: true });
    for (const [name, prepare] of Object.entries(PICTURES)) {
      await prepare(visit);
      await visit.page.getByText('updating').first().waitFor({ state: 'hidden', timeout: 60_000 });
      await visit.page.waitForTimeout(3000); // what is worked out behind the scenes
      await visit.page.evaluate(() => window.scrollTo(0, 0));
      await visit.page.screenshot({ path: `${FOLDER}${name}.png` });
    }
    expect(visit.faults).toEqual([]);
    await visit.context.close();
  });
});
