import type { Page } from 'playwright';
import { afterEach, beforeAll, describe, expect, it } from 'vitest';
import { startApp, type Visit } from '../support/app-under-test.ts';
import { goTo, said, setQuantity } from '../support/bench-steps.ts';

/** One window goes through all of it; each test asks for its own reader and leaves the usual one. */
let visit: Visit;
beforeAll(async () => {
  const app = await startApp();
  visit = await app.open('#/batch/eyepiece-field-lens/stack');
  return () => visit.context.close();
});
afterEach(async () => {
  const { page, faults } = visit;
  await page.emulateMedia({ forcedColors: null, colorScheme: null, contrast: null, reducedMotion: null });
  await page.setViewportSize({ width: 1440, height: 900 });
  expect(faults).toEqual([]);
});

const STATIONS = ['Order', 'Stack', 'Load', 'Run', 'Monitor', 'Inspect'];

/** All elements of the page, those in shadows included, that match. */
function deep<Answer>(page: Page, read: (all: Element[]) => Answer): Promise<Answer> {
  return page.evaluate(`(${read.toString()})((function all(root) {
    return [...root.querySelectorAll('*')].flatMap((one) => [one, ...(one.shadowRoot ? all(one.shadowRoot) : [])]);
  })(document))`) as Promise<Answer>;
}

/** Things to press that are smaller than 24 by 24 px, but links within a sentence (WCAG 2.2, 2.5.8 "Target Size (Minimum)"). */
const smallTargets = (all: Element[]) =>
  all
    .filter((one) => one.matches('a[href], button, input, select, textarea, summary, [tabindex="0"]'))
    .filter((one) => !one.matches('p a'))
    .map((one) => {
      const label = (one as HTMLInputElement).labels?.[0];
      const isBox = one.matches('[type="checkbox"], [type="radio"]') && label?.contains(one);
      return { one, box: (isBox ? label! : one).getBoundingClientRect() };
    })
    .filter(({ box }) => box.width > 0 && box.bottom > 0 && (box.width < 24 || box.height < 24))
    .map(({ one, box }) => `${one.outerHTML.slice(0, 120)} ${box.width} × ${box.height}`);

/** How many things there are to press. */
const targets = (all: Element[]) => all.filter((one) => one.matches('button, input, select')).length;

const statuses = (all: Element[]) =>
  all
    .filter((one) => one.matches('[role="status"], [role="alert"], [aria-live]'))
    .map((one) => `${(one.getRootNode() as ShadowRoot).host?.localName ?? ''}: ${one.textContent?.trim()}`);

/** What a canvas shows: its colours, and how many dots have each. */
const inks = (all: Element[]) => {
  const canvas = all.find((one) => one instanceof HTMLCanvasElement) as HTMLCanvasElement;
  const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
  const found: Record<string, number> = {};
  for (let at = 0; at < data.length; at += 4)
    if (data[at + 3] === 255) {
      const ink = `rgb(${data[at]}, ${data[at + 1]}, ${data[at + 2]})`;
      found[ink] = (found[ink] ?? 0) + 1;
    }
  return found;
};

const colourOf = (page: Page, colour: string) =>
  page.evaluate((name) => {
    document.body.style.color = name;
    const { color } = getComputedStyle(document.body);
    document.body.style.color = '';
    return color;
  }, colour);

describe('whoever reads it', () => {
  it('in colours that the system forces sees curves, buttons and the station that is open', async () => {
    const { page } = visit;
    await page.locator('cw-spectrum-chart').first().waitFor();
    await page.emulateMedia({ forcedColors: 'active', colorScheme: 'dark' });
    const ink = await colourOf(page, 'CanvasText');
    expect(await colourOf(page, 'Canvas')).not.toBe(ink);
    // The curve alone has more dots than the frame's corners.
    await expect.poll(async () => (await deep(page, inks))[ink] ?? 0).toBeGreaterThan(300);
    const main = page.getByRole('button', { name: 'Search', exact: true });
    const [front, back] = await main.evaluate((button) => {
      const style = getComputedStyle(button);
      return [style.color, style.backgroundColor];
    });
    expect(front).not.toBe(back);
    const place = page.locator('app-journey-rail a[aria-current] .place');
    expect(await place.evaluate((one) => getComputedStyle(one).outlineStyle)).toBe('solid');
  });

  it('with more contrast wished for gets soft writing in full ink, in every theme', async () => {
    const { page } = visit;
    await page.emulateMedia({ contrast: 'more' });
    for (const theme of ['light', 'dark', 'chamber']) {
      const tokens = await page.evaluate((name) => {
        document.documentElement.dataset.theme = name;
        const style = getComputedStyle(document.documentElement);
        return ['ink', 'ink-soft', 'ink-faint', 'rule-strong'].map((token) =>
          style.getPropertyValue(`--cw-${token}`),
        );
      }, theme);
      expect(new Set(tokens).size).toBe(1);
    }
    await page.evaluate(() => {
      delete document.documentElement.dataset.theme;
    });
  });

  it('at 200 %, which leaves 720 by 450 px, or on 390 px hits every target and scrolls one way', async () => {
    const { page } = visit;
    for (const [width, height] of [
      [720, 450],
      [390, 844],
    ] as const) {
      await page.setViewportSize({ width, height });
      for (const station of STATIONS) {
        await goTo(page, station);
        const seen = `${station} on ${width} px`;
        expect(await page.evaluate(() => document.documentElement.scrollWidth), seen).toBe(width);
        expect(await deep(page, targets), seen).toBeGreaterThan(10);
        expect(await deep(page, smallTargets), seen).toEqual([]);
      }
      const strip = (await page.locator('footer').boundingBox())!;
      const isSticky = await page.locator('footer').evaluate((one) => getComputedStyle(one).position);
      expect(isSticky === 'sticky' ? strip.height / height : 0).toBeLessThan(0.3);
    }
  });

  it('with two fingers zooms a chart and moves it, while the page stands still', async () => {
    const { page, context } = visit;
    await page.setViewportSize({ width: 390, height: 844 });
    await goTo(page, 'Stack');
    const plot = page.locator('cw-spectrum-chart .plot').first();
    await plot.scrollIntoViewIfNeeded();
    const at = (await plot.boundingBox())!;
    const session = await context.newCDPSession(page);
    const y = at.y + at.height / 2;
    const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', xs: readonly number[], down = 0) =>
      session.send('Input.dispatchTouchEvent', {
        type,
        touchPoints: xs.map((x, id) => ({ x: at.x + x, y: y + down, id })),
      });
    const range = () =>
      plot.evaluate((one) => [Number(one.ariaValueMin), Number(one.ariaValueMax)] as [number, number]);
    const [from, to] = await range();
    const scrolled = await page.evaluate(() => window.scrollY);
    await touch('touchStart', [180]);
    await touch('touchStart', [180, 220]);
    for (let step = 1; step <= 6; step += 1) await touch('touchMove', [180 - 10 * step, 220 + 10 * step]);
    await expect.poll(async () => (await range())[1] - (await range())[0]).toBeLessThan(0.5 * (to - from));
    const [near, far] = await range();
    for (let step = 1; step <= 6; step += 1)
      await touch('touchMove', [120 - 5 * step, 280 - 5 * step], 10 * step);
    await expect.poll(async () => (await range())[0]).toBeGreaterThan(near);
    const moved = await range();
    expect(moved[1] - moved[0]).toBeLessThan(1.3 * (far - near));
    await touch('touchEnd', []);
    expect(await page.evaluate(() => window.scrollY)).toBe(scrolled);
    await page.locator('cw-spectrum-chart').first().getByRole('button', { name: 'All' }).click();
    expect(await range()).toEqual([from, to]);
  });

  it('and wants no motion sees none, and hears of each edit once, from the figures', async () => {
    const { page } = visit;
    await page.emulateMedia({ reducedMotion: 'reduce' });
    const settled = () =>
      expect
        .poll(() => said(page, 'cw-ripple-strip'), { timeout: 60_000 })
        .not.toMatch(/updating|out of date/);
    for (const [station, label, value] of [
      ['Order', 'Good lenses', '900'],
      ['Load', 'Rim kept free', '20'],
      ['Run', 'Process temperature', '200'],
    ] as const) {
      await goTo(page, station);
      await page.mouse.move(0, 0); // or a picture that comes to lie under the pointer reads out what is there
      await settled();
      const before = await deep(page, statuses);
      await setQuantity(page, label, value);
      await settled();
      const spoken = async () =>
        (await deep(page, statuses))
          .filter((one) => !before.includes(one) && !one.endsWith(': '))
          .map((one) => one.split(':')[0]);
      await expect.poll(spoken).toEqual(['cw-ripple-strip']);
    }
    await goTo(page, 'Load');
    await page.getByRole('button', { name: 'Turn the carrier' }).click();
    const moving = (all: Element[]) =>
      all.filter((one) => getComputedStyle(one).animationName !== 'none').map((one) => one.outerHTML);
    expect(await deep(page, moving)).toEqual([]);
  });
});
