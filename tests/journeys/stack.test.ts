import { describe, expect, it } from 'vitest';
import { axeFinds } from '../support/axe-finds.ts';
import { figure, goTo, said, setQuantity } from '../support/bench-steps.ts';
import { visitInOneWindow } from '../support/visit-each.ts';

const visit = visitInOneWindow(undefined, ({ page }) => goTo(page, 'Stack'));

const thickness = (layer: number) =>
  visit.page.getByRole('spinbutton', { name: `Front layer ${layer}: thickness` });
const button = (name: string | RegExp) => visit.page.locator('main').getByRole('button', { name });

describe('the layers in section', () => {
  it('are dragged by their upper boundary; figure and chart follow, and one undo takes the drag back', async () => {
    const { page } = visit;
    const before = await figure(page, 'R mean');
    const box = (await page.locator('cw-stack-section .reach').nth(2).boundingBox())!;
    const [x, y] = [box.x + box.width / 3, box.y + box.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x, y - 12, { steps: 3 });
    const underway = await figure(page, 'R mean');
    expect(underway).not.toBe(before);
    await page.mouse.move(x, y - 24, { steps: 3 });
    await page.mouse.up();
    expect(await figure(page, 'R mean')).not.toBe(underway);
    expect(Number(await thickness(3).inputValue())).toBeGreaterThan(100);
    expect(await said(page, 'cw-spectrum-chart')).toContain('before');
    await button('Undo')
      .or(page.getByRole('button', { name: 'Undo' }))
      .first()
      .click();
    expect(await thickness(3).inputValue()).toBe('96');
    expect(await figure(page, 'R mean')).toBe(before);
  });
});

describe('a layer whose index changes as it grows', () => {
  it('changes the figure, is named at the layer, and one undo takes it back', async () => {
    const { page } = visit;
    const before = await figure(page, 'R mean');
    await page.getByText('Index that changes through a layer').click();
    await setQuantity(page, 'Layer 2, ZrO₂', '-6');
    expect(await figure(page, 'R mean')).not.toBe(before);
    expect(await said(page, '.layers tbody')).toContain('−6 % outwards');
    expect(await said(page, 'app-change-line')).toContain('Front layer 2: index change 0 → −6 %');
    await page.getByRole('button', { name: 'Undo' }).click();
    expect(await figure(page, 'R mean')).toBe(before);
    expect(await said(page, '.layers tbody')).not.toContain('outwards');
  });
});

describe('a search', () => {
  it('works in helping workers of the browser, as many as there are cores, and stops on request', async () => {
    const { page } = visit;
    await setQuantity(page, 'Most layers', '12');
    const helpers = () => page.workers().filter((worker) => worker.url().includes('kernel-worker'));
    const before = helpers().length;
    await button('Search').click();
    const cores = await page.evaluate(() => navigator.hardwareConcurrency);
    await expect.poll(() => helpers().length - before, { timeout: 20_000 }).toBe(Math.min(cores, 8));
    await button('Stop').click();
    expect(await said(page, 'app-stack-finder')).toContain('The search was stopped');
  });

  it('gives stacks to compare; taking one is one edit that undo takes back', async () => {
    const { page } = visit;
    await setQuantity(page, 'Most layers', '2');
    await button('Search').click();
    await button(/^Take Stack A/).waitFor({ timeout: 60_000 });
    const table = await said(page, 'app-stack-finder table');
    for (const words of ['Figure of merit', 'Thinnest layer', 'Yield under the errors below', ' h '])
      expect(table).toContain(words);
    expect(await said(page, 'app-stack-finder cw-spectrum-chart')).toContain('Stack A');
    expect(await page.locator('.layers tbody tr').count()).toBe(3);
    await button(/^Take Stack A/).click();
    expect(await page.locator('.layers tbody tr').count()).toBe(2);
    expect(await said(page, 'app-change-line')).toContain('Stack of the front: Stack A, from a search');
    await page.getByRole('button', { name: 'Undo' }).click();
    expect(await page.locator('.layers tbody tr').count()).toBe(3);
    expect(await thickness(3).inputValue()).toBe('96');
  });

  it('stops within one frame of being told, and leaves the stack as it was', async () => {
    const { page } = visit;
    await button('Search').click();
    await button('Stop').waitFor();
    await page.waitForTimeout(500);
    const says = await button('Stop').evaluate(async (stop: HTMLElement) => {
      const root = stop.getRootNode() as ShadowRoot;
      stop.click();
      await new Promise((resolve) => requestAnimationFrame(resolve));
      return root.textContent;
    });
    expect(says).toContain('The search was stopped; nothing was changed.');
    expect(await button('Search').isEnabled()).toBe(true);
    expect(await thickness(1).inputValue()).toBe('82');
  });

  it('says in a sentence why requirements that exclude one another have no stack', async () => {
    const { page } = visit;
    await goTo(page, 'Order');
    await button('Add a requirement').first().click();
    await page.getByLabel('which side is good').nth(1).selectOption('above');
    await setQuantityAt('limit', 1, '5');
    await goTo(page, 'Stack');
    await button('Search').click();
    await page.locator('app-stack-finder p.said').waitFor();
    expect(await said(page, 'app-stack-finder p.said')).toMatch(/^[A-Z].*requirements\[.*\.$/i);
  });

  it('by closed forms alone is there at once, each with its source; the most robust can come first', async () => {
    const { page } = visit;
    await button('Suggest from closed forms').click();
    await button(/^Take Stack A/).waitFor();
    expect(await said(page, 'app-stack-finder table')).toContain('Cox, Hass & Thelen 1962');
    const yields = page.locator('app-stack-finder tr', { hasText: 'Yield under the errors below' });
    await yields.filter({ hasNotText: '…' }).waitFor({ timeout: 30_000 });
    await page.getByLabel('First comes').selectOption('robust');
    const texts = await yields.locator('td').allInnerTexts();
    const values = texts.map((text) => Number.parseFloat(text));
    expect(values).toEqual(values.toSorted((one, other) => other - one));
  });

  it('in one material alone says that only a single layer can be made', async () => {
    const { page } = visit;
    for (const material of ['Al₂O₃', 'ZrO₂', 'SiO₂', 'Ta₂O₅', 'TiO₂'])
      await page.locator('app-stack-finder').getByRole('checkbox', { name: material, exact: true }).uncheck();
    await button('Search').click();
    await page.locator('app-stack-finder', { hasText: 'only a single layer' }).waitFor({ timeout: 60_000 });
    expect(await page.locator('app-stack-finder ol').first().locator('li').count()).toBe(1);
  });

  it('of thicknesses only leaves a held layer alone and is one edit', async () => {
    const { page } = visit;
    await setQuantity(page, 'Front layer 3: thickness', '110');
    await page.getByRole('checkbox', { name: 'Front layer 1 held' }).check();
    const before = Number.parseFloat(await figure(page, 'R mean'));
    await button('Refine thicknesses').click();
    await page.locator('app-stack-finder', { hasText: 'Thicknesses refined.' }).waitFor();
    expect(Number.parseFloat(await figure(page, 'R mean'))).toBeLessThan(before);
    expect(await thickness(1).inputValue()).toBe('82');
    await page.getByRole('button', { name: 'Undo' }).click();
    expect(await thickness(3).inputValue()).toBe('110');
  });
});

describe('the tolerance', () => {
  it('gives a yield with its interval and a band in the chart, and follows the errors', async () => {
    const { page } = visit;
    await page.getByRole('checkbox', { name: /^Make virtual coatings/ }).check();
    const line = page.locator('app-tolerance-panel p', { hasText: 'with 95 % confidence' });
    await line.waitFor({ timeout: 30_000 });
    const before = await line.innerText();
    expect(before).toMatch(/Yield \d+\.\d %, with 95 % confidence between \d+\.\d % and \d+\.\d %/);
    expect(await said(page, 'app-stack-station cw-spectrum-chart')).toContain('5 to 95 % of the trials');
    await setQuantity(page, 'Thickness, relative', '8');
    await line.filter({ hasNotText: before }).filter({ hasNotText: 'updating' }).waitFor({ timeout: 30_000 });
    const yieldOf = (text: string) => Number(/Yield ([\d.]+)/.exec(text)![1]);
    expect(yieldOf(await line.innerText())).toBeLessThan(yieldOf(before));
  });
});

describe('a stack that its monitoring spoils', () => {
  it('says which layer misses its cut, and leads to where the rule is chosen', async () => {
    const { page } = visit;
    // On the lens the layer grows a quarter wave at 550 nm thick, so that its level lies at the turning point.
    await setQuantity(page, 'Front layer 1: thickness', '78.6');
    const said = page.getByText(/^Layer 1, Al₂O₃, misses its cut in [\d.]+ % of the virtual runs/);
    await said.getByRole('link', { name: 'Monitor' }).click();
    await page.locator('main h1', { hasText: 'Monitor' }).waitFor();
  });
});

describe('angle and edge', () => {
  it('show the film thinner and the light aslant towards the edge of the lens', async () => {
    const panel = visit.page.locator('app-off-axis-panel');
    await panel.locator('tbody tr').nth(4).waitFor({ timeout: 30_000 });
    // The front's radius is 48.5 mm and the clear aperture 30 mm: asin(15 / 48.5) = 18.0°, its cosine 0.951.
    expect(await panel.locator('tbody tr').last().innerText()).toMatch(/15\.0 mm\s+18\.0°\s+95\.1 %/);
  });
});

describe('what stands half done', () => {
  it('is there on coming back from another page, however little could be made of it', async () => {
    const { page } = visit;
    const trials = page.getByRole('spinbutton', { name: 'Trials', exact: true });
    await trials.fill('2 million');
    await goTo(page, 'Monitor');
    const grown = page.getByRole('spinbutton', { name: /^Layer 1, .* really/ });
    await grown.fill('77.5');
    await page.goto(`${visit.app.url}#/new`);
    const order = page.getByLabel('The order in a line');
    await order.fill('517642, d 32');
    await page.goto(`${visit.app.url}#/materials/mgf2`);
    await page.getByRole('button', { name: 'Make a variant' }).click();
    await page.getByLabel('Name', { exact: true }).fill('From chamber 2');
    await goTo(page, 'Stack');
    expect(await trials.inputValue()).toBe('2 million');
    expect(await said(page, 'app-tolerance-panel')).toContain('1000 stays in force');
    await goTo(page, 'Monitor');
    expect(await grown.inputValue()).toBe('77.5');
    await page.goto(`${visit.app.url}#/materials/mgf2`);
    expect(await page.getByLabel('Name', { exact: true }).inputValue()).toBe('From chamber 2');
    await page.goto(`${visit.app.url}#/new`);
    expect(await order.inputValue()).toBe('517642, d 32');
    await order.fill('');
  });
});

describe('the station with everything open', () => {
  it('is free of what axe finds, and needs no scrolling sideways on 390 px', async () => {
    const { page } = visit;
    await button('Suggest from closed forms').click();
    await page.getByRole('checkbox', { name: /^Make virtual coatings/ }).check();
    await page.locator('app-tolerance-panel p', { hasText: 'with 95 % confidence' }).waitFor();
    expect(await axeFinds(page)).toEqual([]);
    await page.setViewportSize({ width: 390, height: 844 });
    await button(/^Take /)
      .first()
      .waitFor();
    await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
  });
});

async function setQuantityAt(label: string, place: number, typed: string): Promise<void> {
  const field = visit.page.getByRole('spinbutton', { name: label, exact: true }).nth(place);
  await field.fill(typed);
  await field.press('Enter');
}
