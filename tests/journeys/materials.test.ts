import { readFileSync } from 'node:fs';
import type { Page } from 'playwright';
import { describe, expect, it } from 'vitest';
import { axeFinds } from '../support/axe-finds.ts';
import { figure, goTo, said } from '../support/bench-steps.ts';
import { visitInOneWindow } from '../support/visit-each.ts';

const visit = visitInOneWindow('#/materials/mgf2');

/** Invented: a film of falling index, with decimal commas. */
const TABLE = 'wavelength (nm);n;k\n350;1,62;0,001\n500;1,60;0\n700;1,59;0\n1200;1,58;0\n';

async function importText(page: Page, name: string, text: string): Promise<void> {
  await page.getByRole('button', { name: 'Import a material' }).click();
  await page
    .locator('app-material-maker input[type="file"]')
    .setInputFiles({ name, mimeType: 'text/plain', buffer: Buffer.from(text) });
}

const put = (page: Page) => page.getByRole('button', { name: 'Put into the batch' });

describe('the library', () => {
  it('shows a material with range, source and hazards, and another one beside it', async () => {
    const { page } = visit;
    await page.getByRole('heading', { level: 2, name: 'Magnesium fluoride' }).waitFor();
    const text = await said(page, 'app-materials-page');
    for (const words of ['190.3 to 15974 nm', 'Franta', 'dust: avoid inhaling', 'safety data sheet'])
      expect(text).toContain(words);
    await page.getByLabel('Compare with').selectOption('sio2');
    await page.getByRole('heading', { level: 2, name: 'Magnesium fluoride and Silicon dioxide' }).waitFor();
    expect(page.url()).toContain('with=sio2');
    expect(await said(page, 'app-materials-page')).toContain('n of Silicon dioxide');
    expect(await axeFinds(page)).toEqual([]);
  });

  it('lists the further data sets and is searched by formula and by author', async () => {
    const { page } = visit;
    await page.getByText('90 of 90 materials').waitFor();
    await page.getByRole('searchbox').fill('HfO2 bright');
    await page.getByText('1 of 90 materials').waitFor();
    await page.getByRole('link', { name: 'Hafnium dioxide, sputtered' }).click();
    await page.getByRole('heading', { level: 2, name: 'Hafnium dioxide, sputtered (Bright 2012)' }).waitFor();
  });

  it('says so where an address names a material that nobody has', async () => {
    const { page } = visit;
    await page.goto(`${visit.app.url}#/materials/unobtainium`);
    await page.getByText('There is no material "unobtainium"').waitFor();
  });
});

describe("the shop's own materials", () => {
  it('are imported as a table, used in a layer, undone and exported', async () => {
    const { page } = visit;
    await goTo(page, 'Stack');
    const before = await figure(page, 'R mean');
    await page.goto(`${visit.app.url}#/materials`);
    await importText(page, 'Witness film.csv', TABLE);
    await page.getByText('4 rows, 350.00 to 1200.0 nm').waitFor();
    expect(await axeFinds(page)).toEqual([]);
    await put(page).click();
    await page.getByRole('heading', { level: 2, name: 'Witness film' }).waitFor();
    expect(await said(page, 'app-materials-page .list')).toContain('Carried by this batch');

    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Export', exact: true }).click();
    const exported = JSON.parse(readFileSync(await (await download).path(), 'utf8'));
    expect(exported).toMatchObject({ id: 'witness-film', dispersion: { n: [1.62, 1.6, 1.59, 1.58] } });

    await goTo(page, 'Stack');
    await page.getByRole('combobox', { name: /layer 3: material/i }).selectOption('witness-film');
    await expect.poll(() => figure(page, 'R mean')).not.toBe(before);

    await page.goto(`${visit.app.url}#/materials/witness-film`);
    await page.getByRole('button', { name: 'Take out of the batch' }).click();
    await page.getByText('Witness film stays: it is used for layer 3 of the front').waitFor();

    await page.getByRole('button', { name: 'Undo' }).click();
    await goTo(page, 'Stack');
    expect(await figure(page, 'R mean')).toBe(before);
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.goto(`${visit.app.url}#/materials/witness-film`);
    await page.getByText('There is no material "witness-film"').waitFor();
  });

  it('are made of another one by packing, edited, and taken out again', async () => {
    const { page } = visit;
    await page.getByRole('button', { name: 'Make a variant' }).click();
    await page.getByRole('textbox', { name: 'Name' }).fill('Our fluoride');
    await page.getByText('From vacuum to damp air its optical thickness grows by').waitFor();
    await put(page).click();
    await page.getByRole('heading', { level: 2, name: 'Our fluoride' }).waitFor();
    expect(await said(page, 'app-materials-page')).toContain('packing 0.9 with empty voids');
    await page.getByRole('button', { name: 'Edit' }).click();
    const factor = page.getByRole('spinbutton', { name: 'Index times' });
    await factor.fill('0.98');
    await factor.press('Tab');
    await page.getByRole('button', { name: 'Keep the changes' }).click();
    await page.getByText('packing 0.9 with empty voids, n × 0.98', { exact: true }).waitFor();
    expect(await page.getByRole('button', { name: 'Undo' }).getAttribute('title')).toBe(
      'Undo: Material changed: Our fluoride',
    );
    await page.getByRole('button', { name: 'Take out of the batch' }).click();
    await page.getByText('There is no material "our-fluoride"').waitFor();
  });

  it('may be an expression, which is computed again after the page is opened anew', async () => {
    const { page } = visit;
    await page.getByRole('button', { name: 'Make a material' }).click();
    await page.getByLabel('Made from').selectOption('expression');
    await page.getByRole('textbox', { name: 'Name' }).fill('Formula film');
    await page.getByRole('textbox', { name: 'n =' }).fill('1.5 + 0.004 / um^2 + window');
    await page.getByText(/the expression .*window/i).waitFor();
    expect(await put(page).isDisabled()).toBe(true);
    await page.getByRole('textbox', { name: 'n =' }).fill('1.5 + 0.004 / um^2');
    await put(page).click();
    await page.getByRole('heading', { level: 2, name: 'Formula film' }).waitFor();
    await goTo(page, 'Stack');
    await page.getByRole('combobox', { name: /layer 1: material/i }).selectOption('formula-film');
    const mean = await figure(page, 'R mean');
    await page.locator('app-batch-bar', { hasText: 'kept in this browser' }).waitFor();
    await page.reload();
    await page.locator('main h1').first().waitFor();
    expect(await figure(page, 'R mean')).toBe(mean);
  });

  it('lie on the shelf for other batches, until they are taken off', async () => {
    const { page } = visit;
    await importText(page, 'Shelf film.csv', TABLE);
    await put(page).click();
    await page.getByRole('button', { name: 'Keep on the shelf' }).click();
    await page.getByText('Shelf film lies on the shelf').waitFor();
    await page.goto(`${visit.app.url}#/batch/prism-face/order`);
    await page.locator('app-batch-bar .batch', { hasText: 'prism' }).waitFor();
    await page.goto(`${visit.app.url}#/materials/shelf-film`);
    await page.getByRole('button', { name: 'Put into this batch' }).click();
    await expect.poll(() => said(page, 'app-materials-page .list')).toContain('Carried by this batch');
    await page.getByRole('button', { name: 'Take off the shelf' }).click();
    await page.getByText('Shelf film is off the shelf').waitFor();
    await page.getByRole('button', { name: 'Put Shelf film back on the shelf' }).click();
    await page.getByText('Shelf film lies on the shelf').waitFor();
    expect(await axeFinds(page)).toEqual([]);
  });

  it('get one sentence for each file that is none, and the batch stays', async () => {
    const { page } = visit;
    for (const [name, text, sentence] of [
      ['words.csv', 'nothing but words\n', /no rows of numbers/],
      ['broken.csv', '400 1.5\n500 abc\n', /line 2/i],
      ['negative.csv', '400;1.5;-1\n500;1.5;0\n', /k is -1/i],
      ['bad.yml', 'DATA: 3\n', /DATA/],
      ['bad.json', '{"id": 3}', /id/i],
    ] as const) {
      await importText(page, name, text);
      await expect.poll(() => said(page, 'app-material-maker .said')).toMatch(sentence);
      expect(await put(page).isDisabled()).toBe(true);
      await page.getByRole('button', { name: 'Leave' }).click();
      expect(await said(page, 'app-materials-page .list')).not.toContain('Carried by this batch');
    }
  });
});
