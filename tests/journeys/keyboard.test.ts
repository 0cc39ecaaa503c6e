import { describe, expect, it } from 'vitest';
import { figure, said } from '../support/bench-steps.ts';
import { visitInOneWindow } from '../support/visit-each.ts';

const visit = visitInOneWindow();

/** What has the focus, shadows included: its accessible words, its kind, and whether an outline shows it. */
function focused() {
  return visit.page.evaluate(() => {
    let element = document.activeElement;
    while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
    if (!(element instanceof HTMLElement)) return undefined;
    const label =
      element.getAttribute('aria-label') ??
      (element as HTMLInputElement).labels?.[0]?.textContent ??
      element.textContent ??
      '';
    const box = element.getBoundingClientRect();
    return {
      words: label.trim().replace(/\s+/g, ' '),
      tag: element.tagName.toLowerCase(),
      isOutlined: getComputedStyle(element).outlineStyle !== 'none',
      isCovered: box.bottom > window.innerHeight + 1 || box.top < -1,
    };
  });
}

/** Presses Tab until the focus lies on something with these words. */
async function tabTo(words: RegExp, most = 120): Promise<void> {
  for (let press = 0; press < most; press += 1) {
    await visit.page.keyboard.press('Tab');
    if (words.test((await focused())?.words ?? '')) return;
  }
  throw new Error(`the focus never came to ${words}`);
}

describe('by keyboard alone', () => {
  it('the first stop skips to the station', async () => {
    const { page } = visit;
    await page.keyboard.press('Tab');
    expect((await focused())?.words).toBe('Skip to the order');
    await page.keyboard.press('Enter');
    await tabTo(/^Title$/, 2);
  });

  it('every stop of every station has words and shows its focus', async () => {
    const { page } = visit;
    for (let station = 1; station <= 6; station += 1) {
      await page.keyboard.press(`Alt+${station}`);
      await page.waitForTimeout(250);
      const wordless: unknown[] = [];
      for (let press = 0; press < 70; press += 1) {
        await page.keyboard.press('Tab');
        const stop = await focused();
        if (stop === undefined || stop.tag === 'body') break;
        if (stop.words === '' || !stop.isOutlined) wordless.push({ station, ...stop });
      }
      expect(wordless).toEqual([]);
    }
  });

  it('a layer is made thicker, the batch follows, and the edit is taken back', async () => {
    const { page } = visit;
    await page.keyboard.press('Alt+2');
    await page.locator('app-stack-station').waitFor();
    const before = await figure(page, 'R mean');
    await tabTo(/Front layer 2: thickness/);
    for (let press = 0; press < 10; press += 1) await page.keyboard.press('ArrowUp');
    expect(await page.getByRole('spinbutton', { name: 'Front layer 2: thickness' }).inputValue()).toBe('135');
    expect(await figure(page, 'R mean')).not.toBe(before);
    expect(await said(page, 'app-change-line')).toContain('Front layer 2 125 → 135 nm');
    await page.keyboard.press('Control+z');
    expect(await figure(page, 'R mean')).toBe(before);
  });

  it('a new order is begun from the menu, which Escape closes', async () => {
    const { page } = visit;
    await tabTo(/^Batch$/);
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    expect((await focused())?.words).toBe('New order');
    await page.keyboard.press('Escape');
    await expect.poll(async () => (await focused())?.words).toBe('Batch');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.locator('app-batch-bar .batch', { hasText: 'New order' }).waitFor();
  });
});
