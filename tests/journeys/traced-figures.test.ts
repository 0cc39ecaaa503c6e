import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { VERSION } from '../../src/base/version.ts';
import { fingerprintOf } from '../../src/batch/fingerprint.ts';
import { travellerBody } from '../../src/batch/traveller/traveller-html.ts';
import { loadWholeLibrary } from '../../src/materials/library.ts';
import { figuresShown } from '../support/figures-shown.ts';
import { computed, knownAt, knownInRail, knownInStrip, unlike } from '../support/known-figures.ts';
import { visitEach } from '../support/visit-each.ts';

const PATIENCE_MS = 20_000;

const visit = visitEach();

it.each(['eyepiece-field-lens', 'prism-face'])(
  "every figure of %s on screen and on paper is the engine's value with its unit, and none is left out",
  async (id) => {
    const { page, app } = visit;
    await loadWholeLibrary();
    const known = await computed(readFileSync(new URL(`../../demo/${id}.json`, import.meta.url), 'utf8'));
    /** What differs still when workers have had their time: until they answer, the screen says that it waits for them. */
    const differences = async (selector: string, expected: Parameters<typeof unlike>[1]) => {
      for (const end = Date.now() + PATIENCE_MS; ; await page.waitForTimeout(100)) {
        const found = unlike(await figuresShown(page, selector), expected);
        if (found.length === 0 || Date.now() > end) return found;
      }
    };
    for (const station of ['order', 'stack', 'load', 'run', 'monitor'] as const) {
      await page.goto(`${app.url}#/batch/${id}/${station}`);
      await page.locator(`app-${station}-station`).waitFor();
      expect.soft(await differences('main', knownAt(station, known)), station).toEqual([]);
      expect.soft(await differences('cw-ripple-strip', knownInStrip(known))).toEqual([]);
      expect.soft(await differences('app-journey-rail', knownInRail(known))).toEqual([]);
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
    expect(onPaper.length).toBeGreaterThan(50);
    expect(onPaper).toEqual(await figuresShown(page, '#made-by-node'));
  },
);
