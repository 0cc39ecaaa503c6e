import { describe, expect, it } from 'vitest';
import '../../src/elements/colour-patch/cw-colour-patch.ts';
import '../../src/elements/verdict/cw-verdict.ts';
import { expectAccessible, stage, within } from './support/stage.ts';

describe('cw-verdict', () => {
  it.each(['met', 'missed', 'watch', 'open'] as const)(
    'says %s by sign and word and is accessible',
    async (verdict) => {
      const element = await stage('cw-verdict', { verdict });
      expect(within(element, '.sign').textContent).toMatch(/\S/);
      expect(element.getAttribute('verdict')).toBe(verdict);
      await expectAccessible(element);
    },
  );
});

describe('cw-colour-patch', () => {
  it('shows the colour and names it, beside the chamber as its red lamp would', async () => {
    const element = await stage('cw-colour-patch', {
      colour: '#3a2f6b',
      previous: '#2b2b60',
      detail: 'L* 22',
    });
    expect(getComputedStyle(within(element, '.lens')).backgroundImage).toContain('rgb(58, 47, 107)');
    expect(within(element, '.detail').textContent).toBe('#3a2f6b, L* 22');
    await expectAccessible(element);
    document.documentElement.dataset.theme = 'chamber';
    const { backgroundImage, backgroundBlendMode } = getComputedStyle(within(element, '.lens'));
    expect(backgroundImage).toContain('rgb(240, 74, 50)'); // the chamber room's lamp
    expect(backgroundBlendMode).toContain('multiply');
  });

  it('says so while no colour is known', async () => {
    const element = await stage('cw-colour-patch');
    expect(within(element, '.detail').textContent).toBe('not known yet');
  });
});
