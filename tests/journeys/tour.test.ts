import { describe, expect, it } from 'vitest';
import { axeFinds } from '../support/axe-finds.ts';
import { visitEach } from '../support/visit-each.ts';

const visit = visitEach();

const card = () => visit.page.getByRole('dialog', { name: /./ }).filter({ hasText: 'Step ' });
const offer = () => visit.page.getByRole('button', { name: 'Start the tour' });

/** The words of what has the focus, shadows included. */
const focusedWords = () =>
  visit.page.evaluate(() => {
    let element = document.activeElement;
    while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
    return element?.textContent?.trim();
  });

describe('the tour of the demo', () => {
  it('leads along all stations by keyboard, ends there, and is not offered again', async () => {
    const { page } = visit;
    await offer().focus();
    await page.keyboard.press('Enter');
    for (const [step, station, title] of [
      [1, 'order', 'Everything follows from the order'],
      [2, 'stack', 'The films, to scale'],
      [3, 'stack', 'What the last edit did'],
      [4, 'load', 'How many go in'],
      [5, 'run', 'When the lot is done'],
      [6, 'monitor', 'Where to cut'],
      [7, 'inspect', 'What came out'],
    ] as const) {
      await card()
        .filter({ hasText: `Step ${step} of 7` })
        .waitFor();
      await page.locator(`app-${station}-station`).waitFor();
      await expect.poll(focusedWords).toBe(title);
      if (step === 2) {
        expect(await axeFinds(page)).toEqual([]);
      }
      for (let stop = 0; stop < 4; stop += 1) {
        await page.keyboard.press('Tab');
        if (/^(Next|Done)$/.test((await focusedWords()) ?? '')) break;
      }
      await page.keyboard.press('Enter');
    }
    await expect.poll(() => card().count()).toBe(0);
    await page.reload();
    await page.locator('app-inspect-station').waitFor();
    expect(await offer().count()).toBe(0);
  });

  it('goes back, leaves the bench free to be tried, and Escape ends it', async () => {
    const { page } = visit;
    await offer().click();
    await card().getByRole('button', { name: 'Next' }).click();
    await page.locator('app-stack-station').waitFor();
    await page.getByRole('spinbutton', { name: 'Front layer 2: thickness' }).fill('130');
    await expect.poll(() => page.getByRole('button', { name: 'Undo' }).isEnabled()).toBe(true);
    await card().getByRole('button', { name: 'Back' }).click();
    await page.locator('app-order-station').waitFor();
    await page.keyboard.press('Escape');
    await expect.poll(() => card().count()).toBe(0);
  });

  it('is put away for good, and taken all the same from the list of keys', async () => {
    const { page } = visit;
    await offer().waitFor();
    await page.getByRole('button', { name: 'Close this message' }).click();
    await page.reload();
    await page.locator('app-order-station').waitFor();
    expect(await offer().count()).toBe(0);
    await page.keyboard.press('Alt+k');
    const help = page.getByRole('dialog', { name: 'Keys and help' });
    await help.getByText('a new order, from a line or a template').waitFor();
    expect(await axeFinds(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await expect.poll(() => help.count()).toBe(0);
    await page.getByRole('button', { name: 'Batch', exact: true }).click();
    await page.getByRole('button', { name: 'Keys, help and tour' }).click();
    await help.getByRole('button', { name: 'Start the tour' }).click();
    await card().filter({ hasText: 'Step 1 of 7' }).waitFor();
  });

  it('fits a phone', async () => {
    const { page } = visit;
    await page.setViewportSize({ width: 390, height: 844 });
    await offer().click();
    const box = await card().boundingBox();
    expect(box!.x).toBeGreaterThanOrEqual(0);
    expect(box!.x + box!.width).toBeLessThanOrEqual(390);
    expect(box!.y).toBeGreaterThanOrEqual(0);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
  });
});
