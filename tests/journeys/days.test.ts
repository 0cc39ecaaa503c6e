import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type AppUnderTest, startApp, type Visit } from '../support/app-under-test.ts';
import { figure, goTo, rename, said, setQuantity } from '../support/bench-steps.ts';

/** One lot goes through three pairs of hands, in one window, as on the shop's shared workstation. The order is invented. */
const LINE = '517642, d 32, R1 84.2 R2 -84.2, 400 pcs, AR R avg <= 0.5 % 430-670 nm 0-15';

let app: AppUnderTest;
let visit: Visit;
beforeAll(async () => {
  app = await startApp();
  visit = await app.open();
});
afterAll(async () => {
  expect(visit.faults).toEqual([]);
  await visit.context.close();
});

const main = () => visit.page.locator('main');
const kept = () => visit.page.locator('app-batch-bar .saving.saved').waitFor();

describe('the engineer', () => {
  it('puts a drawing on the bench, refines the stack that was found, and knows its margin and yield', async () => {
    const { page } = visit;
    await page.keyboard.press('Alt+n');
    await page.locator('app-new-order-page textarea').waitFor();
    await page.keyboard.insertText(LINE);
    await page.keyboard.press('Enter');
    await page
      .locator('app-batch-bar .batch', { hasText: 'Lens 517642, 32 mm' })
      .waitFor({ timeout: 60_000 });
    await rename(page, 'Lot', 'D-1');
    await page.keyboard.press('Alt+2');
    const layers = page.locator('.layers tbody tr');
    await layers.first().waitFor();
    const found = await layers.count();
    const first = main().getByRole('spinbutton', { name: 'Front layer 1: thickness' });
    const planned = await first.inputValue();
    await first.press('ArrowUp');
    expect(await said(page, 'app-change-line')).toContain('Front layer 1');
    await main().getByRole('button', { name: 'Refine thicknesses' }).click();
    await main().getByText('Thicknesses refined.').waitFor({ timeout: 30_000 });
    await page.keyboard.press('Control+z');
    await page.keyboard.press('Control+z');
    expect(await first.inputValue()).toBe(planned);
    expect(await layers.count()).toBe(found);
    expect(await figure(page, 'R mean against 0.50 %')).toMatch(/^0\.\d+ %$/);
    await expect.poll(() => figure(page, 'expected yield'), { timeout: 60_000 }).toMatch(/%$/);
  });
});

describe('the operator', () => {
  it('sees what fits, what to weigh in and when it is done, and takes the traveller to the chamber', async () => {
    const { page } = visit;
    await page.keyboard.press('Alt+3');
    await main().locator('cw-load-picture').waitFor();
    const load = await figure(page, 'lenses a load');
    expect(Number(load)).toBeGreaterThan(100);
    await setQuantity(page, 'Web between holes', '4');
    expect(Number(await figure(page, 'lenses a load'))).toBeLessThan(Number(load));
    await page.keyboard.press('Alt+4');
    await main().getByRole('group', { name: 'What to weigh in' }).locator('tbody tr').first().waitFor();
    const weighed = await said(page, 'app-run-station [aria-label="What to weigh in"]');
    expect(weighed).toMatch(/\d g/);
    await page.keyboard.press('Alt+p');
    const paper = page.locator('.traveller');
    await paper.waitFor();
    const text = await paper.innerText();
    for (const words of ['D-1', '400 good lenses ordered', 'Cautions', 'Operator, date'])
      expect(text).toContain(words);
    await page.getByRole('link', { name: 'Back to the run' }).click();
    await main().locator('h1', { hasText: 'Run' }).waitFor();
  });
});

describe('the technician', () => {
  it('has cuts chosen, rescues a layer that went too thick, logs the run and reads its spectrum', async () => {
    const { page } = visit;
    await page.keyboard.press('Alt+5');
    await main().getByRole('button', { name: 'Choose wavelength and rule for every layer' }).click();
    await page.locator('app-choose-panel ol.reasons li').first().waitFor({ timeout: 30_000 });
    const last = page.getByLabel('Last finished layer');
    await last.selectOption({ index: 0 });
    const really = main().getByRole('spinbutton', { name: /^Layer 1, .*really$/ });
    await really.fill(String(1.06 * Number(await really.inputValue())));
    await really.press('Enter');
    await main().getByRole('button', { name: 'Re-optimise the rest' }).click();
    await page.getByRole('group', { name: 'Rescued layers' }).waitFor({ timeout: 30_000 });
    expect(await page.frameLocator('iframe[title="Rescue page"]').locator('h1').innerText()).toContain(
      'Rescue: Lens 517642',
    );

    await goTo(page, 'Inspect');
    await main().getByRole('button', { name: 'Log a run' }).click();
    await page.getByLabel('Operator, initials').fill('MK');
    const rows = Array.from({ length: 66 }, (_, place) => `${410 + 4 * place};0,25`);
    await page.locator('app-inspect-station input[type="file"]').setInputFiles({
      name: 'witness-D-1.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from(['Wavelength / nm;R / %', ...rows].join('\n')),
    });
    await expect.poll(() => said(page, 'app-verdict-panel')).toContain('0.25');
    await expect.poll(() => said(page, 'app-run-trail')).toContain('MK');
    expect(await said(page, 'app-journey-rail')).toContain('1 run logged');
  });
});

describe('two windows of the shared workstation', () => {
  it('work on lots of their own, and one that both have changed is lost to neither', async () => {
    const { page, context } = visit;
    await kept();
    const other = await context.newPage();
    await other.goto(`${app.url}#/batch/eyepiece-field-lens/order`);
    await other.locator('app-batch-bar .batch', { hasText: 'Eyepiece' }).waitFor();
    await setQuantity(other, 'Good lenses', '111');
    expect(await said(page, 'app-batch-bar .batch')).toContain('D-1');
    await other.goto(page.url().replace('/inspect', '/order'));
    await other.locator('app-batch-bar .batch', { hasText: 'D-1' }).waitFor();
    expect(await said(other, 'app-journey-rail')).toContain('1 run logged');
    await goTo(page, 'Order');
    await setQuantity(other, 'Good lenses', '222');
    await page.locator('app-journey-rail', { hasText: '222 lenses' }).waitFor();

    // Both change the lot before either has heard of the other.
    await Promise.all([setQuantity(page, 'Good lenses', '333'), setQuantity(other, 'Good lenses', '444')]);
    const clash = (window: typeof page) => window.getByRole('button', { name: 'Keep mine as a copy' });
    const both = [page, other];
    await expect
      .poll(async () => {
        const said = await Promise.all(both.map((window) => clash(window).count()));
        return said.includes(1);
      })
      .toBe(true);
    const late = (await clash(page).count()) > 0 ? page : other;
    await clash(late).click();
    await late.waitForURL(/-2\/order/);
    const counts = await Promise.all(
      both.map((window) => window.getByRole('spinbutton', { name: 'Good lenses' }).inputValue()),
    );
    expect(counts.sort()).toEqual(['333', '444']);
    await page.goto(`${app.url}#/batches`);
    await page.getByText('5 batches in this browser').waitFor();
    await other.close();
  });
});
