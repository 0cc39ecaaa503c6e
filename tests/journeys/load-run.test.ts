import { readFileSync } from 'node:fs';
import type { Page } from 'playwright';
import { describe, expect, it } from 'vitest';
import { figure, goTo, said, setQuantity } from '../support/bench-steps.ts';
import { visitInOneWindow } from '../support/visit-each.ts';

const visit = visitInOneWindow();

/** The largest deviation of the film over the rack, percent, as the Load station says it. */
async function deviation(page: Page): Promise<number> {
  return Number(/at most ± ?([\d.]+) %/.exec(await said(page, 'app-load-station'))?.[1]);
}

describe('the Load station', () => {
  it('shows at once how a tilt changes the film over the rack', async () => {
    const { page } = visit;
    await goTo(page, 'Load');
    const before = await deviation(page);
    await setQuantity(page, 'Tilt towards the axis', '30');
    const after = await deviation(page);
    expect(before).toBeGreaterThan(0);
    expect(after).not.toBe(before);
    expect(await said(page, 'app-change-line')).toMatch(/front: film over the rack/);
  });

  it('has its tilt moved by keys in the side view, as one named edit after the other', async () => {
    const { page } = visit;
    await goTo(page, 'Load');
    const before = await deviation(page);
    await page.getByRole('slider', { name: 'Tilt of the racks towards the axis' }).focus();
    await page.keyboard.press('PageUp');
    expect(await said(page, 'app-change-line')).toContain('Tilt of the racks 18 → 28 °');
    expect(await deviation(page)).not.toBe(before);
    await page.getByRole('button', { name: 'Undo' }).click();
    expect(await deviation(page)).toBe(before);
  });

  it('has a source dragged with the mouse', async () => {
    const { page } = visit;
    await goTo(page, 'Load');
    // What the workers find stands above the picture and would move it from under the mouse.
    await page.getByText(/lenses a load meet every requirement/).waitFor({ timeout: 30_000 });
    const handle = page.getByRole('slider', { name: 'gun-1, distance from the axis' });
    await handle.evaluate((element) => element.scrollIntoView({ block: 'center' }));
    const box = (await handle.boundingBox())!;
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2 + 20, box.y + box.height / 2, { steps: 4 });
    await page.mouse.up();
    await expect
      .poll(() => said(page, 'app-change-line'))
      .toMatch(/gun-1: distance from the axis 260 → [\d.]+ mm/);
  });

  it('evens the film out with a shield, which one undo takes away', async () => {
    const { page } = visit;
    await goTo(page, 'Load');
    await page.getByRole('button', { name: 'Even out with a shield for gun-1' }).click();
    await page.getByText(/the film goes from ±[\d.]+ % to ±0\.\d+ %/).waitFor({ timeout: 60_000 });
    const table = page.getByRole('group', { name: 'What the shields do' });
    const row = await table.getByRole('row').nth(1).innerText();
    const [without, withIt] = [...row.matchAll(/±([\d.]+) %/g)].map(([, figure]) => Number(figure));
    expect(withIt!).toBeLessThan(0.1 * without!);
    expect(await said(page, 'app-change-line')).toContain('Shield gun-1');
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => table.count()).toBe(0);
  });

  it('loads another lot on racks of the same carrier', async () => {
    const { page } = visit;
    await goTo(page, 'Load');
    await page.getByRole('button', { name: 'Load another lot with it' }).click();
    expect(await page.getByRole('group', { name: 'What stands in every load' }).innerText()).toMatch(
      /20 of lot 2/,
    );
  });

  it('becomes a dome by one choice, with its own fields and pictures, and planets again by one undo', async () => {
    const { page } = visit;
    await goTo(page, 'Load');
    await page.getByLabel('The load is').selectOption({ label: 'a dome that turns on the axis' });
    expect(await said(page, 'app-change-line')).toContain('Motion: a dome that turns on the axis');
    await page.getByRole('spinbutton', { name: 'Radius of its sphere' }).waitFor();
    expect(await page.getByRole('spinbutton', { name: 'Tilt towards the axis' }).count()).toBe(0);
    expect(await page.getByRole('slider', { name: 'Height of the dome above the sources' }).count()).toBe(1);
    await page.getByRole('button', { name: 'Turn the dome' }).waitFor();
    expect(await said(page, 'cw-load-picture')).toContain('on 1 rack');
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('button', { name: 'Turn the carrier' }).waitFor();
  });

  it('colours the places by film or by verdict and reads them out', async () => {
    const { page } = visit;
    await goTo(page, 'Load');
    await page.getByText(/lenses a load meet every requirement/).waitFor({ timeout: 30_000 });
    expect(await said(page, 'cw-load-picture')).toMatch(/\d+ met/);
    const picture = page.getByRole('listbox', { name: /The load in the chamber/ });
    await picture.focus();
    await page.keyboard.press('Home');
    expect(await said(page, 'cw-load-picture .readout')).toMatch(/rack 1, .* place 1/);
    await page.getByLabel('Places coloured by').selectOption({ label: 'film of MgF₂' });
    expect(await said(page, 'cw-load-picture .readout')).toMatch(/\d+(\.\d+)? %/);
    expect(await said(page, 'cw-load-picture .legend')).toContain('MgF₂ over the mean / %');
  });

  it('takes the best aim, which never loses a good lens', async () => {
    const { page } = visit;
    await goTo(page, 'Load');
    await setQuantity(page, 'Film aimed at, over the stack', '-6');
    const good = async () =>
      Number(/(\d+) of \d+ lenses a load meet/.exec(await said(page, 'app-load-station'))?.[1]);
    await page
      .getByText(/-6 %|instead of about/)
      .first()
      .waitFor({ timeout: 30_000 });
    await page.getByRole('button', { name: 'Take this aim' }).waitFor({ timeout: 30_000 });
    const before = await good();
    await page.getByRole('button', { name: 'Take this aim' }).click();
    await page.getByText(/No other aim gives more/).waitFor({ timeout: 30_000 });
    expect(await good()).toBeGreaterThanOrEqual(before);
    expect(await said(page, 'app-change-line')).toMatch(/Thickness aim [-−]6 →/);
  });

  it('gives the places as text and the drilling picture to scale', async () => {
    const { page } = visit;
    await goTo(page, 'Load');
    const text = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save the places as CSV' }).click();
    expect(readFileSync(await (await text).path(), 'utf8')).toMatch(/^place,x_mm,y_mm,angle_deg\r\n1,/);
    const picture = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save the drilling picture, to scale' }).click();
    expect(readFileSync(await (await picture).path(), 'utf8')).toContain('width="384mm"');
  });

  it('says at the field why there is no plan, and keeps the last good one', async () => {
    const { page } = visit;
    await goTo(page, 'Load');
    const lenses = await figure(page, 'lenses a load');
    await setQuantity(page, 'Diameter', '40');
    const field = page
      .locator('cw-quantity-field')
      .filter({ has: page.getByText('Diameter', { exact: true }) });
    expect(await field.first().evaluate((element) => element.shadowRoot?.textContent)).toMatch(
      /does not go into the 24 mm that the rack leaves/,
    );
    expect(await said(page, 'app-change-line')).toContain('out of date');
    expect(await figure(page, 'lenses a load')).toBe(lenses);
    await setQuantity(page, 'Diameter', '360');
    await setQuantity(page, 'Height above the sources', '40');
    expect(await said(page, 'app-load-station')).toMatch(/a planet comes within [\d.]+ mm of the source/);
  });
});

describe('the Run station', () => {
  it('says what a pressure that cannot be reached ends at, at its field', async () => {
    const { page } = visit;
    await goTo(page, 'Run');
    await page.locator('summary', { hasText: 'Chamber' }).click();
    await page
      .getByRole('group', { name: 'Pump stage 2' })
      .getByRole('spinbutton', { name: 'Down to' })
      .fill('1e-5 Pa');
    await page.keyboard.press('Enter');
    const stage = await said(page, '[aria-label="Pump stage 2"]');
    expect(stage).toMatch(/cannot be reached: with this speed and gas load the pressure ends at [\d.e-]+ Pa/);
  });

  it('has pump stages added, given a line and taken away, and says what the line leaves', async () => {
    const { page } = visit;
    await goTo(page, 'Run');
    await page.locator('summary', { hasText: 'Chamber' }).click();
    const second = () => said(page, '[aria-label="Pump stage 2"]');
    await page.getByRole('button', { name: 'Reckon with its line: pump stage 2' }).click();
    expect(await second()).toMatch(/the line leaves [\d.]+ m³\/s at its beginning, [\d.]+ m³\/s at its end/);
    await page.getByRole('spinbutton', { name: 'Bore of its line' }).fill('0 mm');
    await page.keyboard.press('Enter');
    expect(await second()).toMatch(/not above 0 mm|above 0/);
    await page.getByRole('button', { name: 'Without the line: pump stage 2' }).click();
    await page.getByRole('button', { name: 'Another pump stage' }).click();
    await page
      .getByRole('group', { name: 'Pump stage 3' })
      .getByRole('spinbutton', { name: 'Down to' })
      .fill('0.0005 Pa');
    await page.keyboard.press('Enter');
    expect(await said(page, '[aria-label="Pump stage 3"]')).toMatch(/Takes \d/);
    await page.getByRole('button', { name: 'Remove pump stage 3' }).click();
    expect(await page.getByRole('group', { name: 'Pump stage 3' }).count()).toBe(0);
    expect(await said(page, 'app-change-line')).toContain('Pump stage 3 removed');
  });

  it('says how fast the glass may be heated and holds a thick one back', async () => {
    const { page } = visit;
    await goTo(page, 'Run');
    await page.locator('summary', { hasText: 'Chamber' }).click();
    expect(await said(page, 'app-run-station')).toMatch(/5\.40 mm at its thickest, bears [\d.]+ K\/min/);
    await setQuantity(page, 'Fastest change of temperature', '3');
    expect(await said(page, 'app-run-station')).toContain('held to 3.0 K/min as the order says');
  });

  it('says whether the cost counts the computed yield or the reserve', async () => {
    const { page } = visit;
    await goTo(page, 'Run');
    await page.getByText(/by the computed yield of/).waitFor({ timeout: 30_000 });
    expect(await said(page, 'app-run-station')).toMatch(/lenses lost, by the computed yield/);
    expect(await figure(page, 'cost a good lens, by the yield')).toMatch(/[\d.]+ EUR/);
  });

  it('lets two sources fire one material, each with its own charge', async () => {
    const { page } = visit;
    await goTo(page, 'Run');
    const charges = page.getByRole('row', { name: /^MgF₂ gun-1/ });
    await page.getByLabel('MgF₂: fires together with').selectOption('gun-1');
    await charges.first().waitFor();
    await setQuantity(page, "MgF₂: gun-1's part of the mass", '25');
    expect(await said(page, 'app-change-line')).toContain('MgF₂, part from gun-1 50 → 25 %');
    await page.getByLabel('MgF₂: fires together with').selectOption({ label: 'alone' });
    await expect.poll(() => charges.count()).toBe(0);
  });

  it('refuses a rate of nothing at its field', async () => {
    const { page } = visit;
    await goTo(page, 'Run');
    await setQuantity(page, 'MgF₂: rate', '0');
    expect(await said(page, 'app-run-station')).toMatch(/0 nm\/s is below|at least 0\.001|below 0\.001/);
  });

  it('says what other rates would save', async () => {
    const { page } = visit;
    await goTo(page, 'Run');
    const row = page.getByRole('row', { name: /All rates at 200 %/ });
    await page.getByRole('spinbutton', { name: 'Rates, of what they are' }).fill('200');
    await page.keyboard.press('Enter');
    await row.waitFor();
    expect(await row.innerText()).toMatch(/\d\.\d h/);
    expect(await page.getByRole('row', { name: /3 racks/ }).innerText()).toMatch(/h/);
  });

  it('plans the lot over shifts, and another day moves its end', async () => {
    const { page } = visit;
    await goTo(page, 'Run');
    const end = page.getByText(/The lot is done on/);
    expect(await end.innerText()).toMatch(/(Mon|Tue|Wed|Thu|Fri) 2026-1[12]-\d\d at \d\d:\d\d/);
    await page.getByLabel('First day').fill('2026-12-07');
    expect(await end.innerText()).toMatch(/2026-12-\d\d at/);
    await page.getByLabel('Shift 1 to').fill('07:00');
    await page.getByLabel('Shift 1 to').press('Tab');
    expect(await said(page, 'app-run-station')).toMatch(/above the longest shift of 60 min/);
    await page.getByLabel('Shift 1 to').fill('05:00');
    await page.getByLabel('Shift 1 to').press('Tab');
    expect(await said(page, 'app-run-station')).toContain(
      'Shift 1 ends at 05:00, which is not after its beginning at 06:00; a shift over midnight is written as two',
    );
    await page.getByLabel('Shift 1 to').fill('00:00');
    await page.getByLabel('Shift 1 to').press('Tab');
    expect(await end.innerText()).toMatch(/2026-12-\d\d at/);
  });

  it('shows refills, crystals, cost by parts and the cautions without a click', async () => {
    const { page } = visit;
    await goTo(page, 'Run');
    const all = await said(page, 'app-run-station');
    for (const words of [
      'Fill up before run',
      'first crystal',
      'lenses lost, by the',
      'In all',
      'liquid nitrogen',
      "equipment's manual",
    ])
      expect(all).toContain(words);
    expect(await page.getByRole('slider', { name: /Pressure while pumping/ }).isVisible()).toBe(true);
  });
});
