import { describe, expect, it } from 'vitest';
import { axeFinds } from '../support/axe-finds.ts';
import { figure, said } from '../support/bench-steps.ts';
import { visitEach } from '../support/visit-each.ts';

const visit = visitEach();

const LINE = '517642, d 32, R1 84.2 R2 -84.2, 400 pcs, AR R avg <= 0.4 % 430-670 nm 0-25';
const understood = () => said(visit.page, 'app-new-order-page [role="status"][aria-label]');

describe('a new order from a line', () => {
  it('goes from the keys to a printable traveller in four strokes and a paste', async () => {
    const { page } = visit;
    await page.keyboard.press('Alt+n');
    await page.locator('app-new-order-page textarea').waitFor();
    await page.keyboard.insertText(LINE);
    await expect.poll(understood).toContain('R mean ≤ 0.4 %, 430–670 nm, 0° and 25°');
    expect(await understood()).toContain('Not said, so assumed: clear aperture 30.0 mm');
    await page.keyboard.press('Enter');
    await page
      .locator('app-batch-bar .batch', { hasText: 'Lens 517642, 32 mm' })
      .waitFor({ timeout: 30_000 });
    await expect.poll(() => said(page, 'app-journey-rail')).toContain('400 lenses');
    expect(await figure(page, 'R ')).toMatch(/%$/);
    await page.keyboard.press('Alt+p');
    await page.locator('.traveller').waitFor();
    const paper = await page.locator('.traveller').innerText();
    for (const words of ['400 good lenses ordered', '517642', LINE]) expect(paper).toContain(words);
  });

  it('says what it does not understand, and makes nothing of what cannot be', async () => {
    const { page } = visit;
    await page.goto(`${visit.app.url}#/new`);
    const field = page.getByLabel('The order in a line');
    const make = page.getByRole('button', { name: 'Put it on the bench' });
    await field.fill('517643, d 32, next Friday');
    await expect.poll(understood).toContain('"517643" is no glass of the library; the nearest are 517642');
    expect(await understood()).toContain('“next Friday”');
    expect(await make.isDisabled()).toBe(true);
    await field.fill('517642, d 0.2, 10 pcs');
    await expect.poll(understood).toContain('0.2 mm is below 1 mm');
    await field.press('Enter');
    expect(await make.isDisabled()).toBe(true);
    await field.fill('517642, d 12, 10 pcs');
    await make.click();
    await page.locator('app-batch-bar .batch', { hasText: 'Lens 517642, 12 mm' }).waitFor();
  });

  it('starts from a template, which says that it is invented', async () => {
    const { page } = visit;
    await page.goto(`${visit.app.url}#/new`);
    await page.getByRole('button', { name: /^One laser line of a surveying instrument/ }).click();
    await expect.poll(understood).toContain('R max ≤ 0.25 %, 630–640 nm');
    expect(await axeFinds(page)).toEqual([]);
    await page.keyboard.press('Enter');
    await page
      .locator('app-batch-bar .batch', { hasText: 'Distance-meter objective (invented demo)' })
      .waitFor({ timeout: 30_000 });
    expect(page.url()).toContain('/distance-meter-objective/order');
    await page.getByText('Started from a template').waitFor();
  });
});
