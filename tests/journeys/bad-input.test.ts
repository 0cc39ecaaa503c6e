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

describe('a batch file that is bad', () => {
  it('gets one sentence that says what is wrong, and the open batch stays', async () => {
    const { page } = visit;
    for (const [index, [what, text, sentence]] of files.entries()) {
      const name = `bad-${index}.json`;
      await page
        .locator('app-batch-bar input[type="file"]')
        .setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
      await page.getByText(`${name} was not opened`).waitFor();
      const said_ = await said(page, 'app-notice-list');
      expect(said_, what).toMatch(sentence);
      expect(said_).not.toMatch(/at .*\.(js|ts):/);
    }
    expect(await said(page, 'app-batch-bar .batch')).toContain('Eyepiece field lens');
    expect(await said(page, 'app-journey-rail')).toContain('360 lenses');
  });
});

describe('what a file brings along', () => {
  const markup = (mark: string) =>
    `${mark}<img src=x onerror="window.hurt=1"><script>window.hurt=1</script>"'{{7*7}}`;
  const hostile = changed((d) => {
    Object.assign(d, { id: 'hostile', invented: markup('invented') });
    Object.assign(d.order, { title: markup('title').slice(0, 120), lot: markup('lot').slice(0, 60) });
  });

  it('never becomes markup at any station or on paper, and code in a text is not run', async () => {
    const { page } = visit;
    await page
      .locator('app-batch-bar input[type="file"]')
      .setInputFiles({ name: 'hostile.json', mimeType: 'application/json', buffer: Buffer.from(hostile) });
    await page.waitForURL(/hostile/);
    for (const station of ['order', 'stack', 'load', 'run', 'monitor', 'inspect', 'traveller']) {
      await page.goto(`${visit.app.url}#/batch/hostile/${station}`);
      await page.locator(station === 'traveller' ? '.traveller' : 'main h1').waitFor();
    }
    expect(await said(page, '.traveller')).toContain('<img src=x onerror=');
    await page.goto(`${visit.app.url}#/batches`);
    await page.getByText('4 batches in this browser').waitFor();
    expect(await page.locator('img[src="x"], script:not([src])').count()).toBe(0);
    expect(await page.evaluate(() => (window as { hurt?: number }).hurt)).toBeUndefined();
    expect(visit.faults).toEqual([]);
    // The policy of the served app: no text becomes code, whatever brought it in.
    const refused = await page.evaluate(() => {
      const script = document.createElement('script');
      script.textContent = 'window.hurt = 1';
      document.body.append(script);
      // Later, since the tool that runs this here lets it evaluate what the page may not.
      return new Promise<unknown>((resolve) => {
        setTimeout(() => {
          try {
            // biome-ignore lint/security/noGlobalEval: it is what must be refused
            resolve(eval('1 + 1'));
          } catch (error) {
            resolve((error as Error).name);
          }
        }, 0);
      });
    });
    expect(refused).toBe('EvalError');
    expect(await page.evaluate(() => (window as { hurt?: number }).hurt)).toBeUndefined();
    expect(visit.faults.splice(0).every((fault) => /Content Security Policy/.test(fault))).toBe(true);
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
