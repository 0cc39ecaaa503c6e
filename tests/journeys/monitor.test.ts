import { describe, expect, it } from 'vitest';
import { axeFinds } from '../support/axe-finds.ts';
import { goTo, said, setQuantity } from '../support/bench-steps.ts';
import { expectClean } from '../support/clean-sheets.ts';
import { readPdf } from '../support/read-pdf.ts';
import { visitInOneWindow } from '../support/visit-each.ts';

const visit = visitInOneWindow('#/batch/eyepiece-field-lens/monitor');

describe('the monitor station', () => {
  it('chooses wavelength and rule of every layer in one edit, with a sentence for each', async () => {
    const { page } = visit;
    await page.getByRole('button', { name: 'Choose wavelength and rule for every layer' }).click();
    const reasons = page.locator('app-choose-panel ol.reasons li');
    await reasons.first().waitFor();
    expect(await reasons.count()).toBe(3);
    expect(await said(page, 'app-change-line')).toContain('Wavelength and rule chosen for every layer');
    await page.keyboard.press('Control+z');
    await expect.poll(() => reasons.count()).toBe(0);
  });

  it('runs virtual runs with progress, cancels them, and compares strategies on the same luck', async () => {
    const { page } = visit;
    await setQuantity(page, 'Virtual runs', '100000');
    await page.getByRole('button', { name: 'Run 100000 virtual runs' }).click();
    await page.locator('app-virtual-runs progress').waitFor();
    await page.locator('app-virtual-runs').getByRole('button', { name: 'Cancel' }).click();
    await setQuantity(page, 'Virtual runs', '50');
    await page.getByRole('button', { name: 'Run 50 virtual runs' }).click();
    const strategies = page.getByRole('group', { name: 'Strategies' }).locator('tbody tr');
    await strategies.first().waitFor();
    expect(await strategies.count()).toBe(6);
    expect(await said(page, 'app-virtual-runs')).toMatch(/50 runs as set: *yield *\d+\.\d %/);
    await page.getByText('Noise of machine and instrument').click();
    await setQuantity(page, 'Signal noise', '0.2');
    expect(await said(page, 'app-virtual-runs')).toContain('Out of date');
  });

  it('is rehearsed by the space bar alone, tells how far off each layer was, and rescues the run', async () => {
    const { page } = visit;
    await page.getByLabel('Speed').first().selectOption('60');
    await page.getByRole('button', { name: 'Rehearse the run' }).click();
    const dialog = page.getByRole('dialog');
    await dialog.waitFor();
    expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBe('chamber');
    for (let layer = 1; layer <= 3; layer++) {
      await dialog.getByRole('heading', { name: `Layer ${layer} of 3` }).waitFor();
      await page.keyboard.press('Space');
      await dialog.getByRole('button', { name: 'Close the shutter' }).waitFor();
      await page.waitForTimeout(700);
      await page.keyboard.press('Space');
      await expect.poll(() => dialog.getByRole('button', { name: 'Close the shutter' }).count()).toBe(0);
    }
    await dialog.getByRole('heading', { name: 'How it went' }).waitFor();
    expect(await said(page, 'app-rehearsal-panel')).toMatch(
      /points of 1000; the controller alone would have got \d+/,
    );
    await page.keyboard.press('Space');
    expect(await dialog.getByRole('heading', { name: 'How it went' }).isVisible()).toBe(true);
    await page.keyboard.press('Escape');
    await expect.poll(() => dialog.count()).toBe(0);
    expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBeUndefined();

    await page.getByLabel('Last finished layer').selectOption('0');
    await page.getByRole('button', { name: 'Take the thicknesses of the rehearsal' }).click();
    await page.getByRole('button', { name: 'Re-optimise the rest' }).click();
    await page.getByRole('group', { name: 'Rescued layers' }).waitFor();
    expect(await said(page, 'app-rescue-panel')).toMatch(
      /Go on with the new thicknesses|Strip and start again/,
    );
    const sheet = page.frameLocator('iframe[title="Rescue page"]');
    expect(await sheet.locator('h1').innerText()).toBe('Rescue: Eyepiece field lens');
    await page.getByRole('button', { name: 'Take these layers into the batch' }).click();
    expect(await said(page, 'app-change-line')).toContain('Rescue of the front after layer 1');
  });

  it('rescues the second side alone, on a page in the light of the room', async () => {
    const { page } = visit;
    await page.evaluate(() => {
      document.documentElement.dataset.theme = 'chamber';
    });
    await page.getByLabel('Side being coated').selectOption('back');
    await page.locator('app-rescue-panel').getByRole('spinbutton').first().fill('88');
    await page.getByRole('button', { name: 'Re-optimise the rest' }).click();
    const sheet = page.frameLocator('iframe[title="Rescue page"]');
    await sheet.locator('h1').waitFor();
    expect(await sheet.locator('article').innerText()).toContain('Back side, after layer 1 of 3');
    const paper = () => sheet.locator('body').evaluate((body) => getComputedStyle(body).backgroundColor);
    await expect.poll(paper).toBe('rgb(14, 1, 1)');
    await page.evaluate(() => {
      document.documentElement.dataset.theme = 'light';
    });
    await expect.poll(paper).not.toBe('rgb(14, 1, 1)');
    await page.emulateMedia({ media: 'print' });
    await expect.poll(paper).toBe('rgb(255, 255, 255)');
    await page.emulateMedia({ media: 'screen' });
    // The frame's document as it goes to the printer, with the rules that script gave it.
    const printed = await sheet.locator('html').evaluate((root) => {
      const rules = root.ownerDocument.adoptedStyleSheets.flatMap(({ cssRules }) => [...cssRules]);
      return `<!doctype html><style>${rules.map(({ cssText }) => cssText).join('\n')}</style>${root.innerHTML}`;
    });
    const paperPage = await page.context().newPage();
    await paperPage.setContent(printed);
    for (const format of ['A4', 'Letter'] as const)
      expectClean(await readPdf(await paperPage.pdf({ format })), format, 'LW-2611-04');
    await paperPage.close();
    await page.getByRole('button', { name: 'Take these layers into the batch' }).click();
    expect(await said(page, 'app-change-line')).toContain('Rescue of the back after layer 1');
    const first = page.getByRole('group', { name: 'Cut table' }).locator('tbody tr').first();
    await expect.poll(() => first.innerText()).toContain('88.0 nm');
    await page.getByRole('button', { name: 'Front', exact: true }).click();
    await expect.poll(() => first.innerText()).not.toContain('88.0 nm');
  });

  it('says strip and start again where nothing saves the run', async () => {
    const { page } = visit;
    await page.locator('app-rescue-panel').getByRole('spinbutton').first().fill('165');
    await page.getByRole('button', { name: 'Re-optimise the rest' }).click();
    await page.locator('app-rescue-panel .verdict').waitFor();
    expect(await said(page, 'app-rescue-panel')).toContain('Strip and start again');
  });

  it('flags a monitoring wavelength outside the data in the table and on the traveller', async () => {
    const { page } = visit;
    await setQuantity(page, 'Wavelength, unless a layer has its own', '9000');
    expect(await said(page, 'app-monitor-station')).toContain('has no data at 9000 nm');
    await page.goto(`${visit.app.url}#/batch/eyepiece-field-lens/traveller`);
    await page.locator('app-traveller-page h1').first().waitFor();
    expect(await said(page, 'app-traveller-page')).toContain('has no data at 9000 nm');
  });

  it('has nothing that axe complains about during a rehearsal, and scrolls nowhere sideways on a phone', async () => {
    const { page } = visit;
    await page.getByRole('button', { name: 'Rehearse the run' }).click();
    await page.getByRole('dialog').waitFor();
    await page.keyboard.press('Space');
    expect(await axeFinds(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await page.setViewportSize({ width: 390, height: 844 });
    await goTo(page, 'Monitor');
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  });
});
