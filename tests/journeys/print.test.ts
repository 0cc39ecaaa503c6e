import { readFileSync } from 'node:fs';
import jsQrModule from 'jsqr';
import type { Page } from 'playwright';
import { beforeAll, describe, expect, it } from 'vitest';
import { codeText } from '../../src/batch/record-code.ts';
import { type AppUnderTest, startApp } from '../support/app-under-test.ts';
import { expectClean, expectRowsWhole } from '../support/clean-sheets.ts';
import { lettersOf, readPdf } from '../support/read-pdf.ts';

const readQr = ('default' in jsQrModule ? jsQrModule.default : jsQrModule) as typeof jsQrModule;

let app: AppUnderTest;
beforeAll(async () => {
  app = await startApp();
});

/** A batch whose front has thirty layers and whose back is coated alike; invented. */
function thirtyLayers(): string {
  const batch = JSON.parse(
    readFileSync(new URL('../../demo/eyepiece-field-lens.json', import.meta.url), 'utf8'),
  );
  batch.id = 'thirty-layers';
  batch.order.title = 'Thirty layers (invented)';
  batch.monitor.layers = {};
  batch.surfaces.front.layers = Array.from({ length: 30 }, (_, place) => ({
    id: `layer-${place + 1}`,
    material: place % 2 === 0 ? 'zro2' : 'mgf2',
    thicknessNm: place % 2 === 0 ? 64 + place : 101 + place,
  }));
  return JSON.stringify(batch);
}

/** Each row of the paper's tables, as one text without spaces. */
function rowsOf(page: Page): Promise<string[]> {
  return page
    .locator('.traveller tbody tr')
    .evaluateAll((rows) => rows.map((row) => (row.textContent ?? '').normalize('NFKC').replace(/\s+/g, '')));
}

describe.each(['A4', 'Letter'] as const)('on %s', (format) => {
  it('the traveller of the demo is four clean sheets, its cut table alone one a side', async () => {
    const { page, context, faults } = await app.open('#/batch/eyepiece-field-lens/traveller');
    await page.locator('.traveller').waitFor();
    const rows = await rowsOf(page);
    const sheets = await readPdf(await page.pdf({ format }));
    expect(sheets.length).toBe(4);
    expectClean(sheets, format, 'LW-2611-04');
    expect(rows.length).toBeGreaterThan(30);
    expectRowsWhole(sheets, rows);
    await page.goto(`${app.url}#/batch/eyepiece-field-lens/monitor`);
    await page.getByRole('link', { name: 'Cut table to print' }).click();
    await page.locator('.traveller.cuts').waitFor();
    const cuts = await rowsOf(page);
    const cutSheets = await readPdf(await page.pdf({ format }));
    expect(cutSheets).toHaveLength(2);
    expectClean(cutSheets, format, 'LW-2611-04');
    expect(cuts).toHaveLength(12); // three layers, and three lines for what is read, on either side
    expectRowsWhole(cutSheets, cuts);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('a traveller of thirty layers on both sides stays below ten sheets, its cut table on one', async () => {
    const { page, context } = await app.open('#/batches');
    await page
      .locator('input[type="file"]')
      .first()
      .setInputFiles({
        name: 'thirty.json',
        mimeType: 'application/json',
        buffer: Buffer.from(thirtyLayers()),
      });
    await page.waitForFunction(() => location.hash.includes('thirty-layers'));
    await page.evaluate(() => {
      location.hash = '#/batch/thirty-layers/traveller';
    });
    await page.locator('.traveller').waitFor();
    const rows = await rowsOf(page);
    const sheets = await readPdf(await page.pdf({ format }));
    expect(sheets.length).toBeLessThan(10);
    expectClean(sheets, format, 'LW-2611-04');
    expectRowsWhole(sheets, rows);
    const cuts = await page
      .locator('.side table')
      .first()
      .locator('tbody tr')
      .evaluateAll((found) => found.map((row) => (row.textContent ?? '').replace(/\s+/g, '')));
    expect(cuts).toHaveLength(30);
    expect(
      sheets.filter(({ letters }) => cuts.every((row) => letters.includes(lettersOf(row)))),
    ).toHaveLength(
      2, // the front's and the back's
    );
    await context.close();
  });
});

/** The demo's run with its spectra five times over, so that its report fills more than one sheet. */
function manySpectra(): string {
  const batch = JSON.parse(
    readFileSync(new URL('../../demo/laser-window-1064.json', import.meta.url), 'utf8'),
  );
  batch.id = 'many-spectra';
  const run = batch.runs.at(-1);
  run.spectra = Array.from({ length: 5 }, (_, round) =>
    run.spectra.map((spectrum: { id: string }) => ({ ...spectrum, id: `${spectrum.id}-${round}` })),
  ).flat();
  return JSON.stringify(batch);
}

describe("a run's report", () => {
  it('is two clean sheets for the demo and three for fifteen spectra, on A4 and on Letter', async () => {
    const { page, context, faults } = await app.open('#/batch/laser-window-1064/certificate/run-12');
    const printed = async (sheetCount: number) => {
      await page.locator('.traveller.certificate').waitFor();
      const rows = await rowsOf(page);
      for (const format of ['A4', 'Letter'] as const) {
        const sheets = await readPdf(await page.pdf({ format }));
        expect(sheets, format).toHaveLength(sheetCount);
        expectClean(sheets, format, 'LW-2611-07');
        expectRowsWhole(sheets, rows);
      }
    };
    await printed(2);
    await page.goto(`${app.url}#/batches`);
    await page
      .locator('input[type="file"]')
      .first()
      .setInputFiles({
        name: 'many.json',
        mimeType: 'application/json',
        buffer: Buffer.from(manySpectra()),
      });
    await page.waitForFunction(() => location.hash.includes('many-spectra'));
    await page.goto(`${app.url}#/batch/many-spectra/certificate/run-12`);
    await page.getByText('15: ').waitFor();
    await printed(3);
    expect(faults).toEqual([]);
    await context.close();
  });
});

describe('the code on the traveller', () => {
  it('is read off the screen; typed into the search of batches it opens the record and says whether the sheet is true', async () => {
    const { page, context } = await app.open('#/batch/eyepiece-field-lens/traveller', {
      deviceScaleFactor: 3,
    });
    const picture = await page.locator('.traveller svg.code').screenshot();
    const { data, width, height } = await page.evaluate(async (base64) => {
      const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
      const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
      const pen = canvas.getContext('2d')!;
      pen.drawImage(bitmap, 0, 0);
      const image = pen.getImageData(0, 0, bitmap.width, bitmap.height);
      return { data: Array.from(image.data), width: bitmap.width, height: bitmap.height };
    }, picture.toString('base64'));
    const text = readQr(Uint8ClampedArray.from(data), width, height)?.data ?? '';
    expect(text).toContain(codeText({ batchId: 'eyepiece-field-lens' }));
    expect(text).toMatch(/sheet=[0-9a-f]{16}$/);

    const scan = async () => {
      await page.evaluate(() => {
        location.hash = '#/batches';
      });
      await page.getByLabel('Search by title or lot').fill(text);
      await page.getByText('1 batch in this browser').waitFor();
      await page.keyboard.press('Enter');
    };
    await scan();
    await page.getByText('The printed sheet is up to date').waitFor();
    await page.evaluate(() => {
      location.hash = '#/batch/eyepiece-field-lens/order';
    });
    const field = page.locator('main').getByRole('spinbutton', { name: 'Good lenses', exact: true }).first();
    await field.fill('361');
    await field.press('Enter');
    await scan();
    await page.getByText('The printed sheet is out of date').waitFor();
    await context.close();
  });
});
