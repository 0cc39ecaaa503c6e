import type { ThemeName } from '../elements/tokens/theme-css.ts';

/** What the reader, not the batch, decides. */
export interface Preferences {
  /** `system` follows the reader's own light or dark. */
  readonly theme: ThemeName | 'system';
  readonly lengthUnit: 'nm' | 'Å';
  readonly pressureUnit: 'mbar' | 'Torr' | 'Pa';
  /** The batch that was open last. */
  readonly lastBatch: string | undefined;
  /** Whether the tour of the demo was taken or put away. */
  readonly tourSeen: boolean;
}

const KEY = 'coatwright-preferences';

const USUAL: Preferences = {
  theme: 'system',
  lengthUnit: 'nm',
  pressureUnit: 'mbar',
  lastBatch: undefined,
  tourSeen: false,
};

const ALLOWED: Readonly<Record<'theme' | 'lengthUnit' | 'pressureUnit', readonly string[]>> = {
  theme: ['system', 'light', 'dark', 'chamber'],
  lengthUnit: ['nm', 'Å'],
  pressureUnit: ['mbar', 'Torr', 'Pa'],
};

/** Reads the preferences; what is missing or unknown is as usual. `text` is what the browser kept. */
export function readPreferences(text: string | null | undefined): Preferences {
  let kept: unknown;
  try {
    kept = JSON.parse(text ?? '{}');
  } catch {
    return USUAL;
  }
  if (typeof kept !== 'object' || kept === null) return USUAL;
  const given = kept as Record<string, unknown>;
  const words = Object.entries(ALLOWED).filter(([name, allowed]) => allowed.includes(String(given[name])));
  return {
    ...USUAL,
    ...Object.fromEntries(words.map(([name]) => [name, given[name]])),
    lastBatch: typeof given.lastBatch === 'string' ? given.lastBatch : undefined,
    tourSeen: given.tourSeen === true,
  };
}

/** What the browser kept, as usual where it keeps nothing. */
export function loadPreferences(): Preferences {
  try {
    return readPreferences(localStorage.getItem(KEY));
  } catch {
    return USUAL;
  }
}

/** Keeps the preferences; a browser that keeps nothing is no reason to stop working. */
export function keepPreferences(preferences: Preferences): void {
  try {
    localStorage.setItem(KEY, JSON.stringify(preferences));
  } catch {
    // A private window: the preferences last as long as the page.
  }
}

/** Gives the page its theme. */
export function applyTheme(theme: Preferences['theme']): void {
  if (theme === 'system') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
}
