import { beforeAll, describe, expect, it } from 'vitest';
import { type AppUnderTest, startApp } from '../support/app-under-test.ts';

let app: AppUnderTest;
beforeAll(async () => {
  app = await startApp();
});

describe('the traveller', () => {
  it('holds all that an operator works from', async () => {
    const { page, context, faults } = await app.open('#/batch/eyepiece-field-lens/traveller');
    const paper = await page.locator('.traveller').innerText();
    for (const words of [
      'LW-2611-04',
      'Front side: coating',
      'Back side: coating as the front',
      'In the order of deposition',
      'Charge with reserve',
      'Done at',
      'where to cut',
      'Readings',
      'safety data sheets',
      'Operator, date',
      'Invented for demonstration',
    ])
      expect(paper.toLowerCase()).toContain(words.toLowerCase());
    expect(await page.locator('.traveller svg').count()).toBeGreaterThan(0);
    expect(await page.locator('.traveller td.tick').count()).toBeGreaterThan(25);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('prints alone, black on white whatever the theme', async () => {
    const { page, context } = await app.open('#/batch/eyepiece-field-lens/traveller');
    await page.evaluate(() => localStorage.setItem('coatwright-preferences', '{"theme":"chamber"}'));
    await page.reload();
    await page.locator('.traveller').waitFor();
    await page.emulateMedia({ media: 'print' });
    for (const gone of ['app-batch-bar', 'app-journey-rail', 'cw-ripple-strip', 'app-traveller-page .tools'])
      expect(await page.locator(gone).filter({ visible: true }).count()).toBe(0);
    const colours = await page.locator('.traveller').evaluate((element) => {
      const { color } = getComputedStyle(element);
      return { color, background: getComputedStyle(element).backgroundColor };
    });
    expect(colours).toEqual({ color: 'rgb(0, 0, 0)', background: 'rgb(255, 255, 255)' });
    await context.close();
  });

  it('is not shown while there is no plan', async () => {
    const { page, context } = await app.open('#/batch/eyepiece-field-lens/load');
    const field = page.getByRole('spinbutton', { name: 'Diameter', exact: true });
    await field.fill('40');
    await field.press('Enter');
    await page.getByRole('link', { name: 'Traveller' }).click();
    await page.getByText('There is no traveller while the plan has no answer').waitFor();
    await context.close();
  });
});
