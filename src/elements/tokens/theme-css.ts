import { chamberTheme } from './chamber-theme.ts';
import { darkTheme } from './dark-theme.ts';
import { lightTheme } from './light-theme.ts';
import { MEASURES } from './measures.ts';
import { printTheme } from './print-theme.ts';
import { SYSTEM_COLOURS } from './system-colours.ts';
import type { ThemeColours } from './token-names.ts';

/** The themes by the name that `data-theme` takes. */
export const THEMES = { light: lightTheme, dark: darkTheme, chamber: chamberTheme } as const;

/** What `data-theme` on the page's root (or on any part of a page) may say. */
export type ThemeName = keyof typeof THEMES;

/** What a theme is besides its colours. */
interface ThemeManner {
  readonly scheme: 'light' | 'dark';
  readonly patterns: 'on' | 'off';
  /** The light in which colours of the world are shown, `#rrggbb`; none: white. */
  readonly lamp?: string;
  /** Least and greatest lightness (OKLCH) that keep the accent seen on the sheet; none: the theme's own colour. */
  readonly accent?: readonly [number, number];
}

const colourTokens = (colours: Readonly<Record<string, string>>) =>
  Object.entries(colours).map(([name, value]) => `--cw-${name}:${value}`);

const declarations = (colours: ThemeColours, { scheme, patterns, lamp = '#ffffff', accent }: ThemeManner) =>
  [
    `color-scheme:${scheme}`,
    `--cw-patterns:${patterns}`,
    `--cw-lamp:${lamp}`,
    ...colourTokens(colours),
    ...(accent === undefined
      ? []
      : [
          `--cw-residual:oklch(from var(--cw-residual-colour, ${colours.residual}) clamp(${accent[0]}, l, ${accent[1]}) c h)`,
        ]),
  ].join(';');

const LIGHT: ThemeManner = { scheme: 'light', patterns: 'off', accent: [0.45, 0.6] };
const DARK: ThemeManner = { scheme: 'dark', patterns: 'off', accent: [0.66, 0.85] };
const CHAMBER: ThemeManner = { scheme: 'dark', patterns: 'on', lamp: chamberTheme.ink };
/** Soft writing and hairlines as strong as the theme has them. */
const STRONGER = [
  '--cw-ink-soft:var(--cw-ink)',
  '--cw-ink-faint:var(--cw-ink)',
  '--cw-rule-strong:var(--cw-ink)',
  '--cw-rule:var(--cw-ink-soft)',
].join(';');
const ANY = ':where(:root,[data-theme])';
const PRINT: ThemeManner = { scheme: 'light', patterns: 'on', accent: [0.4, 0.6] };

/**
 * All tokens as one style sheet. Everything stands in `:where()`, so that any rule of the page itself wins.
 * Without `data-theme` the reader's own preference of light or dark rules; paper always prints as paper.
 * A page that knows its coating's residual colour sets `--cw-residual-colour` on its root; the accent
 * `--cw-residual` takes hue and chroma from it and a lightness that is seen, but beside the chamber stays red.
 * Who asks for more contrast gets writing and lines in full ink; where the system forces its colours, the tokens are those.
 * `--cw-lamp` is what a colour of the world is multiplied by, so that beside the chamber it is seen as by the room's red lamp.
 * `--cw-patterns: on` asks charts to tell curves apart by dashes, because the theme's hues cannot.
 */
export function themeCss(): string {
  const measures = Object.entries(MEASURES)
    .map(([name, value]) => `--cw-${name}:${value}`)
    .join(';');
  const light = declarations(lightTheme, LIGHT);
  const dark = declarations(darkTheme, DARK);
  return `
:where(:root){${measures};${light}}
@media (prefers-color-scheme: dark){:where(:root:not([data-theme])){${dark}}}
:where([data-theme='light']){${light}}
:where([data-theme='dark']){${dark}}
:where([data-theme='chamber']){${declarations(chamberTheme, CHAMBER)}}
@media (prefers-contrast: more){${ANY}{${STRONGER}}}
@media (forced-colors: active){${ANY}{${['--cw-patterns:on', ...colourTokens(SYSTEM_COLOURS)].join(';')}}}
@media print{:where(:root,:root[data-theme],[data-theme]){${declarations(printTheme, PRINT)}}}
`;
}
