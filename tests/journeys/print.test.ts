import { readFileSync } from 'node:fs';
import jsQrModule from 'jsqr';
import type { Page } from 'playwright';
import { beforeAll, describe, expect, it } from 'vitest';
import { codeText } from '../../src/batch/record-code.ts';
import { type AppUnderTest, startApp } from '../support/app-under-test.ts';
import { lettersOf, type PdfSheet, readPdf } from '../support/read-pdf.ts';

const readQr = ('default' in jsQrModule ? jsQrModule.default : jsQrModule) as typeof jsQrModule;

/** Sizes of paper in mm: ISO 216; ANSI/ASME Y14.1 for Letter (8.5 by 11 inches). */
const PAPERS = { A4: [210, 297], Letter: [215.9, 279.4] } as const;
const POINTS_PER_MM = 72 / 25.4;
/** The papers' own margins, mm: text stands within them, lot and page number in the lower one. */
const MARGIN = { side: 14, top: 13, bottom: 15 };

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

/** What must hold of any printed paper. */
function expectClean(sheets: readonly PdfSheet[], paper: keyof typeof PAPERS, lot: string): void {
  const [widthMm, heightMm] = PAPERS[paper];
  for (const [index, { width, height, texts, letters }] of sheets.entries()) {
    expect(width / POINTS_PER_MM).toBeCloseTo(widthMm, 0);
    expect(height / POINTS_PER_MM).toBeCloseTo(heightMm, 0);
    expect(letters).toContain(lettersOf(`lot ${lot}`));
    expect(letters).toContain(lettersOf(`page ${index + 1} of ${sheets.length}`));
    for (const { text, x, y, width: length } of texts) {
      const place = `${text} on sheet ${index + 1}`;
      expect(x / POINTS_PER_MM, place).toBeGreaterThan(MARGIN.side - 2);
      expect((x + length) / POINTS_PER_MM, place).toBeLessThan(widthMm - MARGIN.side + 2);
      expect(y / POINTS_PER_MM, place).toBeLessThan(heightMm - MARGIN.top);
      expect(y / POINTS_PER_MM, place).toBeGreaterThan(4);
    }
    const foot = texts.filter(({ y }) => y / POINTS_PER_MM < MARGIN.bottom - 1).map(({ text }) => text);
    expect(lettersOf(foot.join(''))).toMatch(/^page\d+of\d+.*lot.*$|^.*lot.*page\d+of\d+$/);
  }
}

/** A row that went over the edge of a sheet has its letters on two of them. */
function expectRowsWhole(sheets: readonly PdfSheet[], rows: readonly string[]): void {
  const split = rows.filter((row) => row !== '' && !sheets.some(({ letters }) => letters.includes(row)));
  expect(split).toEqual([]);
}

describe.each(['A4', 'Letter'] as const)('on %s', (format) => {
  it('the traveller of the demo is four clean sheets', async () => {
    const { page, context, faults } = await app.open('#/batch/eyepiece-field-lens/traveller');
    await page.locator('.traveller').waitFor();
    const rows = await rowsOf(page);
    const sheets = await readPdf(await page.pdf({ format }));
    expect(sheets.length).toBe(4);
    expectClean(sheets, format, 'LW-2611-04');
    expect(rows.length).toBeGreaterThan(30);
    expectRowsWhole(sheets, rows);
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
