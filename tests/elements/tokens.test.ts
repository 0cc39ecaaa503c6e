import { describe, expect, it } from 'vitest';
import { chamberTheme } from '../../src/elements/tokens/chamber-theme.ts';
import { darkTheme } from '../../src/elements/tokens/dark-theme.ts';
import { installTokens } from '../../src/elements/tokens/install-tokens.ts';
import { lightTheme } from '../../src/elements/tokens/light-theme.ts';
import { printTheme } from '../../src/elements/tokens/print-theme.ts';
import { SYSTEM_COLOURS } from '../../src/elements/tokens/system-colours.ts';
import { COLOUR_TOKENS, type ColourToken, type ThemeColours } from '../../src/elements/tokens/token-names.ts';

const themes: readonly (readonly [string, ThemeColours])[] = [
  ['light', lightTheme],
  ['dark', darkTheme],
  ['chamber', chamberTheme],
  ['print', printTheme],
];

const channels = (hex: string) => [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255);

/** Relative luminance, WCAG 2.2, definition of "relative luminance". */
function luminance(hex: string): number {
  const [r, g, b] = channels(hex).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
}

/** Contrast ratio, WCAG 2.2, definition of "contrast ratio". */
function contrast(a: string, b: string): number {
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high! + 0.05) / (low! + 0.05);
}

/** The colour that the screen shows for any CSS colour, as #rrggbb. */
function painted(colour: string): string {
  const context = document.createElement('canvas').getContext('2d')!;
  context.fillStyle = colour;
  context.fillRect(0, 0, 1, 1);
  const [r, g, b] = context.getImageData(0, 0, 1, 1).data;
  return `#${[r, g, b].map((value) => value!.toString(16).padStart(2, '0')).join('')}`;
}

describe.each(themes)('the theme %s', (_name, theme) => {
  it('defines every token and no other, each as six digits', () => {
    expect(Object.keys(theme).sort()).toEqual([...COLOUR_TOKENS].sort());
    for (const value of Object.values(theme)) expect(value).toMatch(/^#[0-9a-f]{6}$/);
  });

  it.each(['ink', 'ink-soft', 'ink-faint', 'met', 'missed', 'watch', 'focus'] as const)(
    'keeps writing in %s at 4.5:1 on every surface',
    (token) => {
      for (const surface of ['paper', 'sheet', 'well'] as const)
        expect(contrast(theme[token], theme[surface])).toBeGreaterThanOrEqual(4.5);
    },
  );

  it.each(['met', 'missed', 'watch'] as const)('keeps %s at 4.5:1 on its own wash', (token) => {
    expect(contrast(theme[token], theme[`${token}-wash`])).toBeGreaterThanOrEqual(4.5);
  });

  it('keeps the main button readable', () => {
    expect(contrast(theme.paper, theme.ink)).toBeGreaterThanOrEqual(4.5);
    expect(contrast(theme.paper, theme['ink-soft'])).toBeGreaterThanOrEqual(4.5);
  });

  it('keeps curves and the borders of controls at 3:1 on the sheet', () => {
    const drawn = [1, 2, 3, 4, 5, 6].map((number) => `curve-${number}` as ColourToken);
    for (const token of [...drawn, 'rule-strong'] as const)
      expect(contrast(theme[token], theme.sheet), token).toBeGreaterThanOrEqual(3);
  });
});

describe('the colours of the system', () => {
  // CSS Color Module Level 4, section 10, "System Colors".
  const known = ['Canvas', 'CanvasText', 'Field', 'GrayText', 'Highlight', 'LinkText'];

  it('stand for every token and no other', () => {
    expect(Object.keys(SYSTEM_COLOURS).sort()).toEqual([...COLOUR_TOKENS].sort());
    expect(Object.values(SYSTEM_COLOURS).filter((value) => !known.includes(value))).toEqual([]);
  });

  it('are colours that a canvas paints: writing is seen on its paper', () => {
    expect(contrast(painted(SYSTEM_COLOURS.ink), painted(SYSTEM_COLOURS.paper))).toBeGreaterThan(4.5);
  });
});

describe('the chamber theme', () => {
  it('gives out long wavelengths only', () => {
    for (const [name, value] of Object.entries(chamberTheme)) {
      const [red, green, blue] = channels(value);
      expect(green!, name).toBeLessThanOrEqual(0.45 * red!);
      expect(blue!, name).toBeLessThanOrEqual(0.3 * red!);
    }
  });

  it('has nothing that is bright', () => {
    for (const [name, value] of Object.entries(chamberTheme))
      expect(luminance(value), name).toBeLessThanOrEqual(0.34);
  });
});

describe('installed tokens', () => {
  it('follow data-theme and give way to rules of the page', () => {
    installTokens();
    const ink = () => getComputedStyle(document.documentElement).getPropertyValue('--cw-ink');
    document.documentElement.dataset.theme = 'dark';
    expect(ink()).toBe(darkTheme.ink);
    document.documentElement.dataset.theme = 'chamber';
    expect(ink()).toBe(chamberTheme.ink);
    const own = document.head.appendChild(document.createElement('style'));
    own.textContent = ':root{--cw-ink:#123456}';
    expect(ink()).toBe('#123456');
    own.remove();
    document.documentElement.removeAttribute('data-theme');
  });

  it.each(['#3b2f6d', '#0d2b14', '#f2ecd0', '#808080', '#000000'])(
    'take the residual colour %s as an accent that is seen at 3:1 in every theme',
    (colour) => {
      document.documentElement.style.setProperty('--cw-residual-colour', colour);
      const patch = document.body.appendChild(document.createElement('div'));
      patch.style.color = 'var(--cw-residual)';
      const seen: string[] = [];
      for (const [name, theme] of themes.slice(0, 3)) {
        document.documentElement.dataset.theme = name;
        const accent = painted(getComputedStyle(patch).color);
        seen.push(accent);
        expect(contrast(accent, theme.sheet), name).toBeGreaterThanOrEqual(3);
      }
      expect(seen[2]).toBe(chamberTheme.residual);
      document.documentElement.removeAttribute('style');
      document.documentElement.removeAttribute('data-theme');
      patch.remove();
    },
  );

  it('are installed once a document', () => {
    const before = document.adoptedStyleSheets.length;
    installTokens();
    expect(document.adoptedStyleSheets.length).toBe(before);
  });
});
