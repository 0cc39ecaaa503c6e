import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { goTo, said } from '../support/bench-steps.ts';
import { visitEach } from '../support/visit-each.ts';

const demo = readFileSync(new URL('../../demo/eyepiece-field-lens.json', import.meta.url), 'utf8');

const parsed = JSON.parse(demo) as {
  version: number;
  order: { quantity: number; lens: Record<string, unknown> };
};

const visit = visitEach();

/** The demo's file with something changed. */
function changed(change: (document: typeof parsed) => void): string {
  const document = structuredClone(parsed);
  change(document);
  return JSON.stringify(document);
}

const files: readonly (readonly [string, string, RegExp])[] = [
  ['is no JSON', '{"format": "coatwright-batch", ', /JSON/],
  ['is empty', '', /JSON|empty/],
  ['is another kind of JSON', '[1, 2, 3]', /not a Coatwright batch/],
  ['has a wrong field', changed((d) => Object.assign(d, { colour: 'blue' })), /unknown field "colour"/],
  ['is of a newer version', changed((d) => Object.assign(d, { version: 99 })), /99 is newer than 1/],
  [
    'names an unknown material',
    changed((d) => Object.assign(d.order.lens, { substrate: 'unobtainium' })),
    /order\.lens\.substrate: "unobtainium"/,
  ],
  [
    'has a negative value',
    changed((d) => Object.assign(d.order.lens, { diameterMm: -3 })),
    /-3 mm is below 1 mm/,
  ],
  [
    'has an absurd value',
    changed((d) => Object.assign(d.order, { quantity: 1e12 })),
    /1000000000000 is above 1000000/,
  ],
];

describe('a batch file that', () => {
  it.each(files)('%s gets one sentence, and the open batch stays', async (_, text, sentence) => {
    const { page } = visit;
    await page
      .locator('app-batch-bar input[type="file"]')
      .setInputFiles({ name: 'bad.json', mimeType: 'application/json', buffer: Buffer.from(text) });
    await page.getByText('bad.json was not opened').waitFor();
    const said_ = await said(page, 'app-notice-list');
    expect(said_).toMatch(sentence);
    expect(said_).not.toMatch(/at .*\.(js|ts):/);
    expect(await said(page, 'app-batch-bar .batch')).toContain('Eyepiece field lens');
    expect(await said(page, 'app-journey-rail')).toContain('360 lenses');
  });
});

describe('a measured file', () => {
  it('without a spectrum changes nothing and says so', async () => {
    const { page } = visit;
    await goTo(page, 'Inspect');
    await page.locator('app-inspect-station input[type="file"]').setInputFiles({
      name: 'notes.txt',
      mimeType: 'text/plain',
      buffer: Buffer.from('nothing but words\n'),
    });
    await page.getByText('notes.txt was not taken in').waitFor();
    expect(await said(page, 'app-journey-rail')).toContain('0 runs logged');
  });
});

describe('storage', () => {
  it('with a damaged batch says so, offers its text, and opens another one', async () => {
    const { page } = visit;
    await page.evaluate(
      () =>
        new Promise<void>((resolve, reject) => {
          const opening = indexedDB.open('coatwright');
          opening.onerror = () => reject(opening.error);
          opening.onsuccess = () => {
            const transaction = opening.result.transaction('batches', 'readwrite');
            const store = transaction.objectStore('batches');
            const reading = store.get('eyepiece-field-lens');
            reading.onsuccess = () => store.put({ ...reading.result, text: '{"format": "coatwright-ba' });
            transaction.oncomplete = () => {
              opening.result.close();
              resolve();
            };
          };
        }),
    );
    await page.reload();
    await page.getByText('The stored batch "eyepiece-field-lens" cannot be read').waitFor();
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Export its text' }).click();
    expect(readFileSync(await (await download).path(), 'utf8')).toBe('{"format": "coatwright-ba');
    expect(await said(page, 'app-batch-bar .batch')).not.toContain('Eyepiece');
  });

  it('that the browser refuses leaves a working bench that says how to keep the batch', async () => {
    const { page, context } = visit;
    const blocked = await context.newPage();
    await blocked.addInitScript(() => {
      Object.defineProperty(window, 'indexedDB', {
        value: {
          open: () => {
            throw new DOMException('not allowed', 'SecurityError');
          },
        },
      });
    });
    await blocked.goto(visit.app.url);
    await blocked.getByText('lets this page store nothing').waitFor();
    await blocked.getByRole('button', { name: 'Export this batch' }).waitFor();
    expect(await said(blocked, 'app-journey-rail')).toContain('360 lenses');
    expect(page.url()).toContain('eyepiece-field-lens');
  });
});

describe('two windows with one batch', () => {
  it('see what the other one has changed', async () => {
    const { page, context } = visit;
    const other = await context.newPage();
    await other.goto(visit.app.url);
    await other.locator('main h1').waitFor();
    const field = page.getByRole('spinbutton', { name: 'Good lenses' });
    await field.fill('500');
    await field.press('Enter');
    await other.locator('app-journey-rail', { hasText: '500 lenses' }).waitFor();
    expect(await said(other, 'app-change-line')).toContain('Changed in another window');
  });
});
