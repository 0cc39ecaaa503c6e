import { describe, expect, it } from 'vitest';
import '../../src/elements/ripple-strip/cw-ripple-strip.ts';
import { expectAccessible, stage } from './support/stage.ts';

const figures = [
  {
    name: 'R mean',
    formatted: '0.31',
    unit: '%',
    change: -0.04,
    changeFormatted: '0.04',
    betterWhen: 'lower',
    verdict: 'met',
  },
  { name: 'Yield', formatted: '92.4', unit: '%', change: -3.1, betterWhen: 'higher', state: 'updating' },
  { name: 'Lenses a run', formatted: '366', change: 12, betterWhen: 'higher' },
  { name: 'Cost', formatted: '3.20', unit: 'a lens', state: 'stale', verdict: 'missed' },
] as const;

describe('cw-ripple-strip', () => {
  it('is accessible in every theme', async () => {
    await expectAccessible(await stage('cw-ripple-strip', { figures }));
  });

  it('says every change and whether it is for the better', async () => {
    const strip = await stage('cw-ripple-strip', { figures });
    const changes = [...strip.shadowRoot!.querySelectorAll('.change')];
    expect(changes.map((item) => item.textContent?.trim())).toEqual([
      '▼ 0.04',
      'updating',
      '▲ 12',
      'out of date',
    ]);
    expect(changes[0]!.classList.contains('better')).toBe(true);
    expect(changes[2]!.classList.contains('better')).toBe(true);
  });

  it('tells a screen reader once all is computed, not before', async () => {
    const strip = await stage('cw-ripple-strip', { figures });
    const status = () => strip.shadowRoot!.querySelector('[role=status]')?.textContent;
    expect(status()).toBe('');
    strip.figures = figures.map((figure) => ({ ...figure, state: 'fresh' as const }));
    await strip.updateComplete;
    expect(status()).toBe('R mean 0.31 %, Yield 92.4 %, Lenses a run 366');
  });
});
