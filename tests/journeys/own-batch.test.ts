import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { figure, goTo, rename, said, setQuantity } from '../support/bench-steps.ts';
import { visitEach } from '../support/visit-each.ts';

const visit = visitEach();

/** Opens the menu of the batch and picks an entry. */
async function pick(entry: string): Promise<void> {
  const { page } = visit;
  await page.getByRole('button', { name: 'Batch', exact: true }).click();
  await page.getByRole('button', { name: entry }).click();
}

const kept = () => visit.page.getByText('kept in this browser').waitFor();

describe("a batch of one's own", () => {
  it('goes from an empty order to a traveller, and is there again after a reload', async () => {
    const { page } = visit;
    await pick('New order');
    await page.locator('app-batch-bar .batch', { hasText: 'New order' }).waitFor();
    await rename(page, 'Title', 'Objective, rear');
    await rename(page, 'Lot', 'T-17');
    await setQuantity(page, 'Good lenses', '48');
    const glass = page.getByLabel('Glass: code or name');
    await glass.fill('835427');
    await glass.press('Enter');
    await setQuantity(page, 'Diameter', '1.8 cm');
    await page
      .getByLabel('Requirements of the front from a template')
      .selectOption({ label: 'Visible broadband' });
    await goTo(page, 'Stack');
    await page.getByRole('button', { name: 'Suggest from closed forms' }).click();
    await page
      .getByRole('button', { name: /^Take / })
      .first()
      .click();
    await page.locator('.layers tbody tr').first().waitFor();
    const layers = await page.locator('.layers tbody tr').count();
    expect(await figure(page, 'R ')).toMatch(/%$/);
    await page.getByRole('link', { name: 'Traveller' }).click();
    await page.locator('.traveller').waitFor();
    const paper = await page.locator('.traveller').innerText();
    for (const words of ['Objective, rear', 'T-17', '48 good lenses ordered', 'Cautions', 'Operator, date'])
      expect(paper).toContain(words);
    await kept();
    await page.reload();
    await page.locator('.traveller').waitFor();
    expect(await page.locator('.traveller').innerText()).toContain('T-17');
    await goTo(page, 'Stack');
    expect(await page.locator('.layers tbody tr').count()).toBe(layers);
    await goTo(page, 'Order');
    const diameter = page.getByRole('spinbutton', { name: 'Diameter', exact: true });
    expect(await diameter.inputValue()).toBe('18');
    await page.getByRole('button', { name: 'History' }).click();
    await page.getByRole('button', { name: /^Good lenses .* 48$/ }).click();
    expect(await diameter.inputValue()).not.toBe('18');
    await page.getByRole('button', { name: /^Lens diameter .* 18 mm/ }).click();
    expect(await diameter.inputValue()).toBe('18');
  });

  it('comes back from its own file, and a copy is a batch by itself', async () => {
    const { page } = visit;
    await setQuantity(page, 'Good lenses', '99');
    const download = page.waitForEvent('download');
    await pick('Export this batch');
    const file = await download;
    expect(file.suggestedFilename()).toBe('eyepiece-field-lens.json');
    const text = readFileSync(await file.path(), 'utf8');
    expect(JSON.parse(text)).toMatchObject({ format: 'coatwright-batch', order: { quantity: 99 } });
    await page
      .locator('app-batch-bar input[type="file"]')
      .setInputFiles({ name: 'back.json', mimeType: 'application/json', buffer: Buffer.from(text) });
    await page.waitForURL(/eyepiece-field-lens-2/);
    expect(await said(page, 'app-journey-rail')).toContain('99 lenses');
    await pick('Duplicate for the next lot');
    await page.locator('app-batch-bar .batch', { hasText: '(copy)' }).waitFor();
    await page.getByRole('link', { name: 'Coatwright: all batches' }).click();
    await page.getByText('5 batches in this browser').waitFor();
    await page.getByLabel('Search by title or lot').fill('prism');
    await page.getByText('1 batch in this browser').waitFor();
  });

  it('is deleted only after a question, and another one comes to the bench', async () => {
    const { page } = visit;
    await page.getByRole('link', { name: 'Coatwright: all batches' }).click();
    await page.getByRole('button', { name: 'Delete Eyepiece field lens, lot LW-2611-04' }).click();
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('3 batches in this browser').waitFor();
    await page.getByRole('button', { name: 'Delete Eyepiece field lens, lot LW-2611-04' }).click();
    await page.getByRole('button', { name: 'Delete', exact: true }).click();
    await page.getByText('2 batches in this browser').waitFor();
    expect(await said(page, 'app-batch-bar .batch')).not.toContain('Eyepiece field lens');
  });

  it('is held against another one side by side', async () => {
    const { page } = visit;
    await page.goto(`${visit.app.url}#/batch/eyepiece-field-lens/compare/prism-face`);
    await page.getByRole('heading', { name: 'Compare' }).waitFor();
    await page.locator('app-compare-page table').first().waitFor();
    expect(await said(page, 'app-compare-page')).toMatch(/lenses a load/);
  });
});

describe('a quantity field', () => {
  it('takes any unit, and keeps the last good value where it cannot', async () => {
    const { page } = visit;
    await setQuantity(page, 'Centre thickness', '0,25 in');
    expect(await said(page, 'app-change-line')).toContain('Centre thickness 5.4 → 6.35 mm');
    await setQuantity(page, 'Good lenses', '-3');
    await page.getByText('-3 is below 1').waitFor();
    expect(await said(page, 'app-journey-rail')).toContain('360 lenses');
    await setQuantity(page, 'Clear aperture', '40');
    await page.getByText('40 mm is above the diameter of 32 mm').waitFor();
    await goTo(page, 'Load');
    await goTo(page, 'Order');
    const aperture = page.getByRole('spinbutton', { name: 'Clear aperture', exact: true });
    expect(await aperture.inputValue()).toBe('40');
    await page.getByText('40 mm is above the diameter of 32 mm').waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    expect(await aperture.inputValue()).toBe('30');
  });

  it('of a lens that fits no rack leaves the batch whole and says why there is no plan', async () => {
    const { page } = visit;
    await goTo(page, 'Load');
    await setQuantity(page, 'Diameter', '40');
    await page.getByText('The plan cannot follow:').waitFor();
    expect(await said(page, 'cw-ripple-strip')).toContain('out of date');
    await page.getByRole('button', { name: 'Undo' }).click();
    expect(await said(page, 'cw-ripple-strip')).not.toContain('out of date');
  });
});
