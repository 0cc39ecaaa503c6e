import { readFileSync } from 'node:fs';
import type { Page } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { VERSION } from '../../src/base/version.ts';
import { fingerprintOf } from '../../src/batch/fingerprint.ts';
import { readBatch } from '../../src/batch/read-batch.ts';
import { travellerBody } from '../../src/batch/traveller/traveller-html.ts';
import { loadWholeLibrary } from '../../src/materials/library.ts';
import { startApp, type Visit } from '../support/app-under-test.ts';
import { chartsShown } from '../support/charts-shown.ts';
import { fieldsShown } from '../support/fields-shown.ts';
import { figuresShown } from '../support/figures-shown.ts';
import { chartFaults, chartsAt } from '../support/known-charts.ts';
import { fieldTexts } from '../support/known-fields.ts';
import { computed, knownAt, knownInRail, knownInStrip, unlike } from '../support/known-figures.ts';

const PATIENCE_MS = 20_000;
const DEMOS = ['eyepiece-field-lens', 'prism-face', 'laser-window-1064'] as const;

let url: string;
let visit: Visit;
let page: Page;
beforeAll(async () => {
  const app = await startApp();
  url = app.url;
  visit = await app.open(`#/batch/${DEMOS[0]}/order`);
  page = visit.page;
  await loadWholeLibrary();
});
afterAll(() => visit.context.close());

const read = (id: string) =>
  readBatch(readFileSync(new URL(`../../demo/${id}.json`, import.meta.url), 'utf8'));

/** What differs still when workers have had their time: until they answer, the screen says that it waits for them. */
async function differences(selector: string, expected: Parameters<typeof unlike>[1]): Promise<string[]> {
  for (const end = Date.now() + PATIENCE_MS; ; await page.waitForTimeout(100)) {
    const found = unlike(await figuresShown(page, selector), expected);
    if (found.length === 0 || Date.now() > end) return found;
  }
}

it.each(DEMOS)(
  "every figure of %s on screen and on paper is the engine's value with its unit, and none is left out",
  async (id) => {
    await page.goto(`${url}#/batch/${id}/order`);
    const known = await computed(read(id), DEMOS.map(read));
    for (const station of ['order', 'stack', 'load', 'run', 'monitor', 'inspect'] as const) {
      await page.goto(`${url}#/batch/${id}/${station}`);
      await page.locator(`app-${station}-station`).waitFor();
      expect.soft(await differences('main', knownAt(station, known)), station).toEqual([]);
      expect.soft((await fieldsShown(page, 'main')).toSorted(), station).toEqual(fieldTexts(station, known));
      expect
        .soft(chartFaults(await chartsShown(page, 'main'), chartsAt(station, known)), station)
        .toEqual([]);
      expect.soft(await differences('cw-ripple-strip', knownInStrip(known))).toEqual([]);
      expect.soft(await differences('app-journey-rail', knownInRail(known))).toEqual([]);
    }
    await page.goto(`${url}#/batch/${id}/traveller`);
    await page.locator('.traveller').waitFor();
    const origin = { version: VERSION, fingerprint: fingerprintOf(known.batch) };
    await page.evaluate((html) => {
      const made = document.createElement('div');
      made.id = 'made-by-node';
      made.innerHTML = html;
      document.body.append(made);
    }, travellerBody(known.batch, known.plan, origin).toString());
    const onPaper = await figuresShown(page, '.paper');
    expect(onPaper.length).toBeGreaterThan(50);
    expect(onPaper).toEqual(await figuresShown(page, '#made-by-node'));
    expect(visit.faults).toEqual([]);
    await page.evaluate(() => document.querySelector('#made-by-node')!.remove());
  },
);
