import { describe, expect, it } from 'vitest';
import { figure, goTo, rename, said, setQuantity } from '../support/bench-steps.ts';
import { visitInOneWindow } from '../support/visit-each.ts';

const visit = visitInOneWindow();

describe('the demo on the first start', () => {
  it('is the invented lot of 360 eyepiece field lenses, planned from end to end', async () => {
    const { page } = visit;
    expect(await said(page, 'app-batch-bar .batch')).toContain('Eyepiece field lens · lot LW-2611-04');
    const rail = await said(page, 'app-journey-rail');
    for (const word of ['360 lenses', '3 layers', 'a load', ' h ', '3 cuts', '0 runs logged'])
      expect(rail).toContain(word);
    expect(await figure(page, 'runs')).toMatch(/^\d+/);
  });
});

describe('an edit of the demo', () => {
  it('at the order changes load, runs and hours', async () => {
    const { page } = visit;
    const before = { load: await figure(page, 'lenses a load'), lot: await figure(page, 'whole lot') };
    await setQuantity(page, 'Diameter', '50');
    const after = { load: await figure(page, 'lenses a load'), lot: await figure(page, 'whole lot') };
    expect(Number.parseInt(after.load, 10)).toBeLessThan(Number.parseInt(before.load, 10));
    expect(after.lot).not.toBe(before.lot);
    expect(await said(page, 'app-change-line')).toContain('Lens diameter 32 → 50 mm');
    await goTo(page, 'Load');
    expect(await said(page, 'app-change-line')).toMatch(/lenses a load\s*\d+\s*→\s*\d+/);
    await goTo(page, 'Monitor');
    expect(await said(page, 'app-change-line')).toContain('changes nothing at this station');
  });

  it('at the stack changes spectrum, run, charge and every later cut', async () => {
    const { page } = visit;
    await goTo(page, 'Monitor');
    const cutBefore = await page.locator('app-monitor-station table tbody tr').nth(1).innerText();
    await goTo(page, 'Stack');
    const before = await figure(page, 'R mean');
    await setQuantity(page, 'Front layer 1: thickness', '120');
    expect(await figure(page, 'R mean')).not.toBe(before);
    const curves = await said(page, 'cw-spectrum-chart');
    expect(curves).toContain('before');
    await goTo(page, 'Monitor');
    expect(await page.locator('app-monitor-station table tbody tr').nth(1).innerText()).not.toBe(cutBefore);
    await goTo(page, 'Run');
    expect(await said(page, 'app-change-line')).toContain('charge of Al');
  });

  it('by the quarter waves or by dragging the section is the same edit of thickness', async () => {
    const { page } = visit;
    await goTo(page, 'Stack');
    await setQuantity(page, 'Front layer 3: quarter waves', '1');
    const typed = await page.getByRole('spinbutton', { name: 'Front layer 3: thickness' }).inputValue();
    expect(Number(typed)).toBeGreaterThan(90);
    expect(Number(typed)).toBeLessThan(96);
    const section = page.locator('cw-stack-section');
    await section.getByRole('slider').first().focus();
    await page.keyboard.press('ArrowUp');
    expect(await page.getByRole('spinbutton', { name: 'Front layer 1: thickness' }).inputValue()).toBe('83');
  });

  it('marks the yield as updating and then has it', async () => {
    const { page } = visit;
    const yields = page.locator('cw-ripple-strip .figure').filter({ hasText: 'expected yield' });
    await yields.filter({ hasNotText: 'updating' }).waitFor({ timeout: 30_000 });
    const before = await figure(page, 'expected yield');
    expect(before).toMatch(/%/);
    await goTo(page, 'Stack');
    await setQuantity(page, 'Front layer 3: thickness', '110');
    await yields.filter({ hasText: 'updating' }).waitFor();
    await yields.filter({ hasNotText: 'updating' }).waitFor({ timeout: 30_000 });
    expect(await figure(page, 'expected yield')).not.toBe(before);
  });

  it('at the load changes lenses and runs', async () => {
    const { page } = visit;
    await goTo(page, 'Load');
    const before = Number.parseInt(await figure(page, 'lenses a load'), 10);
    await setQuantity(page, 'Racks', '3');
    expect(Number.parseInt(await figure(page, 'lenses a load'), 10)).toBe((before / 4) * 3);
    expect(await said(page, 'cw-ripple-strip')).toContain('▼');
  });

  it('at the run changes the hours', async () => {
    const { page } = visit;
    await goTo(page, 'Run');
    const before = await figure(page, 'longest run');
    await setQuantity(page, 'Soak', '50 min');
    expect(await figure(page, 'longest run')).not.toBe(before);
    await setQuantity(page, 'MgF₂: rate', '4 angstrom/s');
    expect(await said(page, 'app-change-line')).toContain('MgF₂, rate 0.8 → 0.4 nm/s');
  });

  it('at the monitor changes its own cuts and nothing of the coating', async () => {
    const { page } = visit;
    await goTo(page, 'Monitor');
    const before = await figure(page, 'R mean');
    await setQuantity(page, 'Wavelength, unless a layer has its own', '500');
    expect(await said(page, 'app-change-line')).toMatch(/layer \d.*→/);
    expect(await figure(page, 'R mean')).toBe(before);
    await goTo(page, 'Stack');
    expect(await said(page, 'app-change-line')).toContain('changes nothing at this station');
  });

  it('at the inspection reads a measured spectrum and judges it', async () => {
    const { page } = visit;
    await goTo(page, 'Inspect');
    const rows = Array.from(
      { length: 61 },
      (_, index) => `${400 + 5 * index};${(0.3 + index / 1000).toFixed(3).replace('.', ',')}`,
    );
    await page.locator('app-inspect-station input[type="file"]').setInputFiles({
      name: 'witness 12.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from(`Wavelength (nm);Reflectance (%)\n${rows.join('\n')}\n`),
    });
    await page.getByText('61 readings.').waitFor();
    expect(await said(page, 'app-inspect-station')).toMatch(
      /0\.3\d+ % measured, no pass without an uncertainty, at 0° only; 25° not measured/,
    );
    expect(await said(page, 'app-journey-rail')).toContain('1 run logged');
  });

  it('can be taken back and done again, by key and by name', async () => {
    const { page } = visit;
    await setQuantity(page, 'Good lenses', '720');
    await rename(page, 'Lot', 'LW-2611-05');
    await page.keyboard.press('Tab');
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('button', { name: 'Undo' }).click();
    expect(await said(page, 'app-journey-rail')).toContain('360 lenses');
    await page.getByRole('button', { name: 'Redo' }).click();
    expect(await said(page, 'app-journey-rail')).toContain('720 lenses');
    await page.locator('app-journey-rail a').first().focus();
    await page.keyboard.press('Control+z');
    expect(await said(page, 'app-journey-rail')).toContain('360 lenses');
    await page.getByRole('button', { name: 'History' }).click();
    await page.getByRole('button', { name: 'Lot: LW-2611-05' }).click();
    expect(await said(page, 'app-batch-bar .batch')).toContain('LW-2611-05');
  });
});
