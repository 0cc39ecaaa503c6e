import { chamberTheme } from './chamber-theme.ts';
import { darkTheme } from './dark-theme.ts';
import { lightTheme } from './light-theme.ts';
import { MEASURES } from './measures.ts';
import { printTheme } from './print-theme.ts';
import type { ThemeColours } from './token-names.ts';

/** The themes by the name that `data-theme` takes. */
export const THEMES = { light: lightTheme, dark: darkTheme, chamber: chamberTheme } as const;

/** What `data-theme` on the page's root (or on any part of a page) may say. */
export type ThemeName = keyof typeof THEMES;

const declarations = (colours: ThemeColours, scheme: 'light' | 'dark', patterns: 'on' | 'off') =>
  [
    `color-scheme:${scheme}`,
    `--cw-patterns:${patterns}`,
    ...Object.entries(colours).map(([name, value]) => `--cw-${name}:${value}`),
  ].join(';');

/**
 * All tokens as one style sheet. Everything stands in `:where()`, so that any rule of the page itself wins.
 * Without `data-theme` the reader's own preference of light or dark rules; paper always prints as paper.
 * `--cw-patterns: on` asks charts to tell curves apart by dashes, because the theme's hues cannot.
 */
export function themeCss(): string {
  const measures = Object.entries(MEASURES)
    .map(([name, value]) => `--cw-${name}:${value}`)
    .join(';');
  const light = declarations(lightTheme, 'light', 'off');
  const dark = declarations(darkTheme, 'dark', 'off');
  return `
:where(:root){${measures};${light}}
@media (prefers-color-scheme: dark){:where(:root:not([data-theme])){${dark}}}
:where([data-theme='light']){${light}}
:where([data-theme='dark']){${dark}}
:where([data-theme='chamber']){${declarations(chamberTheme, 'dark', 'on')}}
@media print{:where(:root,:root[data-theme],[data-theme]){${declarations(printTheme, 'light', 'on')}}}
`;
}
