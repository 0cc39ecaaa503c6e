import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { VERSION } from '../../src/base/version.ts';
import { fingerprintOf } from '../../src/batch/fingerprint.ts';
import { travellerBody } from '../../src/batch/traveller/traveller-html.ts';
import { loadWholeLibrary } from '../../src/materials/library.ts';
import { figuresShown } from '../support/figures-shown.ts';
import { computed, knownAt, knownInRail, knownInStrip, unlike } from '../support/known-figures.ts';
import { visitEach } from '../support/visit-each.ts';

const visit = visitEach();

it.each(['eyepiece-field-lens', 'prism-face'])(
  "every figure of %s on screen and on paper is the engine's value with its unit, and none is left out",
  async (id) => {
    const { page, app } = visit;
    await loadWholeLibrary();
    const known = await computed(readFileSync(new URL(`../../demo/${id}.json`, import.meta.url), 'utf8'));
    const differences = async (selector: string, expected: ReturnType<typeof knownInRail>) =>
      unlike(await figuresShown(page, selector), expected);
    for (const station of ['order', 'stack', 'load', 'run', 'monitor'] as const) {
      await page.goto(`${app.url}#/batch/${id}/${station}`);
      await page.locator(`app-${station}-station`).waitFor();
      // What workers compute comes later; until then it says so, and is no figure of the register.
      await expect
        .poll(() => differences('main', knownAt(station, known)), { timeout: 60_000, message: station })
        .toEqual([]);
      await expect.poll(() => differences('cw-ripple-strip', knownInStrip(known))).toEqual([]);
      expect(await differences('app-journey-rail', knownInRail(known))).toEqual([]);
    }
    await page.goto(`${app.url}#/batch/${id}/traveller`);
    await page.locator('.traveller').waitFor();
    const origin = { version: VERSION, fingerprint: fingerprintOf(known.batch) };
    await page.evaluate((html) => {
      const made = document.createElement('div');
      made.id = 'made-by-node';
      made.innerHTML = html;
      document.body.append(made);
    }, travellerBody(known.batch, known.plan, origin).toString());
    const onPaper = await figuresShown(page, '.paper');
    expect(onPaper.length).toBeGreaterThan(100);
    expect(onPaper).toEqual(await figuresShown(page, '#made-by-node'));
  },
);
