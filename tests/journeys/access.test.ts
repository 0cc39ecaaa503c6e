import { AxeBuilder } from '@axe-core/playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type AppUnderTest, startApp } from '../support/app-under-test.ts';

let app: AppUnderTest;
beforeAll(async () => {
  app = await startApp();
});
afterAll(() => app.close());

const stations = ['order', 'stack', 'load', 'run', 'monitor', 'inspect', 'traveller', 'compare/prism-face'];
const hashes = [
  ...stations.map((station) => `#/batch/eyepiece-field-lens/${station}`),
  '#/batches',
  '#/new',
  '#/materials/mgf2?with=sio2',
];

describe.each(['light', 'dark', 'chamber'])('in the theme "%s"', (theme) => {
  it.each(hashes)('%s has nothing that axe complains about', async (hash) => {
    const { page, context, faults } = await app.open(hash, { viewport: { width: 1280, height: 900 } });
    await page.evaluate((name) => {
      localStorage.setItem('coatwright-preferences', JSON.stringify({ theme: name }));
    }, theme);
    await page.reload();
    await page.locator('main h1').first().waitFor();
    const { violations } = await new AxeBuilder({ page })
      .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
      .analyze();
    expect(
      violations.flatMap(({ id, nodes }) =>
        nodes.map(({ target, failureSummary }) => `${id}: ${target.join(' ')} ${failureSummary}`),
      ),
    ).toEqual([]);
    expect(faults).toEqual([]);
    await context.close();
  });
});
