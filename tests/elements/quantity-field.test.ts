import { describe, expect, it } from 'vitest';
import '../../src/elements/quantity-field/cw-quantity-field.ts';
import type { QuantityFieldElement } from '../../src/elements/quantity-field/quantity-field-element.ts';
import { drawn, expectAccessible, press, stage, within } from './support/stage.ts';

const layer = { label: 'Thickness', value: 92.1, unit: 'nm', min: 0, max: 2000 };
const input = (field: QuantityFieldElement) => within<HTMLInputElement>(field, 'input');

function listen(field: QuantityFieldElement): string[] {
  const heard: string[] = [];
  field.addEventListener('cw-quantity-input', (event) => heard.push(`input ${event.value}`));
  field.addEventListener('cw-quantity-change', (event) => heard.push(`change ${event.value}`));
  return heard;
}

async function type(field: QuantityFieldElement, text: string, settle = true): Promise<void> {
  input(field).value = text;
  input(field).dispatchEvent(new Event('input', { bubbles: true }));
  if (settle) input(field).dispatchEvent(new Event('change'));
  await drawn(field);
}

const until = async (holds: () => boolean) => {
  for (let tries = 0; tries < 1000 && !holds(); tries += 1) await new Promise((done) => setTimeout(done, 20));
  expect(holds()).toBe(true);
};

describe('cw-quantity-field', () => {
  it('shows the value with its unit and is accessible', async () => {
    const field = await stage('cw-quantity-field', layer);
    expect(input(field).value).toBe('92.1');
    expect(within(field, '.unit').textContent).toBe('nm');
    await expectAccessible(field);
  });

  it('fires while typing and once more when settled', async () => {
    const field = await stage('cw-quantity-field', layer);
    const heard = listen(field);
    await type(field, '120', false);
    await type(field, '120');
    expect(heard).toEqual(['input 120', 'change 120']);
    expect(field.value).toBe(120);
  });

  it('takes an everyday unit at once and any other from the library', async () => {
    const field = await stage('cw-quantity-field', layer);
    await type(field, '0.12 µm');
    expect(field.value).toBe(120);
    expect(input(field).value).toBe('120');
    await type(field, '0.005 mil');
    await until(() => field.value === 127);
  }, 30_000);

  it('understands a pasted decimal comma', async () => {
    const field = await stage('cw-quantity-field', layer);
    await type(field, '87,35');
    expect(field.value).toBe(87.35);
    expect(input(field).value).toBe('87.35');
  });

  it('says what is wrong, keeps the last good value in force and says so', async () => {
    const field = await stage('cw-quantity-field', layer);
    const heard = listen(field);
    await type(field, '-3');
    expect(field.value).toBe(92.1);
    expect(heard).toEqual([]);
    expect(within(field, '#said').textContent).toBe('-3 nm is below 0 nm. 92.1 nm stays in force.');
    expect(input(field).getAttribute('aria-invalid')).toBe('true');
    await expectAccessible(field);
    press(input(field), 'Escape');
    await drawn(field);
    expect(input(field).value).toBe('92.1');
    expect(within(field, '#said').textContent?.trim()).toBe('');
  });

  it('refuses a unit of another kind by name', async () => {
    const field = await stage('cw-quantity-field', layer);
    await type(field, '5 s');
    await until(
      () => within(field, '#said').textContent?.includes('"s" does not measure what nm measures') === true,
    );
  }, 30_000);

  it('steps by the last digit on the arrows and ten times as far with Shift', async () => {
    const field = await stage('cw-quantity-field', layer);
    const heard = listen(field);
    press(input(field), 'ArrowUp');
    await drawn(field);
    press(input(field), 'ArrowDown', { shiftKey: true });
    await drawn(field);
    expect(heard).toEqual(['change 92.2', 'change 91.2']);
    expect(input(field).value).toBe('91.2');
  });

  it('leaves the wheel to the page', async () => {
    const field = await stage('cw-quantity-field', layer);
    input(field).focus();
    const wheel = new WheelEvent('wheel', { deltaY: 100, cancelable: true, bubbles: true });
    expect(input(field).dispatchEvent(wheel)).toBe(true);
    expect(field.value).toBe(92.1);
  });

  it('shows the preferred unit and gives out the inner one', async () => {
    const field = await stage('cw-quantity-field', {
      label: 'Base',
      value: 2e-3,
      unit: 'Pa',
      displayUnit: 'mbar',
      max: 1,
    });
    expect(input(field).value).toBe('0.00002');
    await type(field, '5e-5');
    expect(field.value).toBe(5e-3);
    await type(field, '1');
    expect(within(field, '#said').textContent).toContain('1 mbar is above 0.01 mbar');
  });

  it('keeps the digits that were typed when its owner hands the value back', async () => {
    const field = await stage('cw-quantity-field', layer);
    await type(field, '92.50');
    field.value = 92.5;
    await drawn(field);
    expect(input(field).value).toBe('92.50');
    field.value = 80;
    await drawn(field);
    expect(input(field).value).toBe('80');
  });

  it('may be left empty only where it is optional', async () => {
    const field = await stage('cw-quantity-field', layer);
    await type(field, '');
    expect(within(field, '#said').textContent).toContain('nothing is typed');
    field.optional = true;
    await type(field, '');
    expect(field.value).toBeUndefined();
  });

  it('takes whole numbers only where it counts something', async () => {
    const field = await stage('cw-quantity-field', { label: 'Lenses', value: 360, whole: true, min: 1 });
    await type(field, '12.5');
    expect(within(field, '#said').textContent).toContain('12.5 is not a whole number');
  });
});
