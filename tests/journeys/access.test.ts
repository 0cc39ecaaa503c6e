import { beforeAll, describe, expect, it } from 'vitest';
import { startApp, type Visit } from '../support/app-under-test.ts';
import { axeFinds } from '../support/axe-finds.ts';

const DEMO = '#/batch/eyepiece-field-lens/';

/** All pages, with what stands above each. One window goes through them, as its reader would. */
const PAGES = [
  [`${DEMO}order`, 'Order'],
  [`${DEMO}stack`, 'Stack'],
  [`${DEMO}load`, 'Load'],
  [`${DEMO}run`, 'Run'],
  [`${DEMO}monitor`, 'Monitor'],
  [`${DEMO}inspect`, 'Inspect'],
  [`${DEMO}traveller`, 'Traveller'],
  [`${DEMO}compare/prism-face`, 'Compare'],
  ['#/batch/laser-window-1064/certificate/run-12', 'Inspection report'],
  ['#/batches', 'Batches'],
  ['#/new', 'New order'],
  ['#/materials/mgf2?with=sio2', 'Materials'],
] as const;

let visit: Visit;
let url = '';
beforeAll(async () => {
  const app = await startApp();
  url = app.url;
  visit = await app.open('', { viewport: { width: 1280, height: 900 }, reducedMotion: 'reduce' });
  return async () => {
    await visit.context.close();
  };
});

async function take(theme: 'light' | 'dark' | 'chamber'): Promise<void> {
  await visit.page.locator('app-batch-bar select#theme').selectOption(theme, { force: true });
  await visit.page.waitForFunction((name) => document.documentElement.dataset.theme === name, theme);
  await painted();
}

/** How wide the page is with the spacing of text that WCAG 2.2, 1.4.12 names, on a screen of 1.4.10's width. */
function widthWhenWideSet(): number {
  const wide = new CSSStyleSheet();
  wide.replaceSync(
    '* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important } p { margin-bottom: 2em !important }',
  );
  const roots: (Document | ShadowRoot)[] = [document];
  for (const root of roots) {
    for (const { shadowRoot } of root.querySelectorAll('*')) if (shadowRoot !== null) roots.push(shadowRoot);
    root.adoptedStyleSheets.push(wide);
  }
  const width = document.documentElement.scrollWidth;
  for (const root of roots) root.adoptedStyleSheets.pop();
  return width;
}

/** Resolves when all that waits for a frame has had its own. */
const painted = () =>
  visit.page.evaluate(
    () =>
      new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(resolve)))),
  );

describe.each(PAGES)('%s', (hash, title) => {
  it('has nothing that axe complains about, light, dark, and in the chamber room', async () => {
    const { page } = visit;
    await page.goto(url + hash);
    await page.locator('main h1', { hasText: title }).first().waitFor();
    await take('light');
    expect(await axeFinds(page)).toEqual([]);
    for (const theme of ['dark', 'chamber'] as const) {
      await take(theme);
      expect(await axeFinds(page, 'colours'), theme).toEqual([]);
    }
    expect(visit.faults).toEqual([]);
  });

  it('is as clean at 390 px, and needs no scrolling sideways there nor at 320 px with wide-set text', async () => {
    const { page } = visit;
    await page.setViewportSize({ width: 390, height: 844 });
    await take('light');
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    expect(await axeFinds(page)).toEqual([]);
    await page.setViewportSize({ width: 320, height: 640 });
    await expect.poll(() => page.evaluate(widthWhenWideSet), { timeout: 10_000 }).toBe(320); // charts follow a frame later
    await page.setViewportSize({ width: 1280, height: 900 });
    expect(visit.faults).toEqual([]);
  });
});
