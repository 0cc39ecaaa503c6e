import type { ColourToken } from './token-names.ts';

/**
 * Where the reader's system forces a few colours of its own, every token is one of those (CSS Color 4, "System Colors").
 * They are too few for shades: answers are told by their signs, curves by their dashes, films by their boundaries.
 */
export const SYSTEM_COLOURS: Readonly<Record<ColourToken, string>> = {
  paper: 'Canvas',
  sheet: 'Canvas',
  well: 'Field',
  ink: 'CanvasText',
  'ink-soft': 'CanvasText',
  'ink-faint': 'GrayText',
  rule: 'GrayText',
  'rule-strong': 'CanvasText',
  focus: 'Highlight',
  met: 'CanvasText',
  'met-wash': 'Canvas',
  missed: 'CanvasText',
  'missed-wash': 'Canvas',
  watch: 'CanvasText',
  'watch-wash': 'Canvas',
  'curve-1': 'CanvasText',
  'curve-2': 'LinkText',
  'curve-3': 'CanvasText',
  'curve-4': 'LinkText',
  'curve-5': 'CanvasText',
  'curve-6': 'LinkText',
  ghost: 'GrayText',
  glass: 'Canvas',
  'film-low': 'Canvas',
  'film-high': 'GrayText',
  metal: 'Canvas',
  'ramp-low': 'Canvas',
  'ramp-mid': 'GrayText',
  'ramp-high': 'CanvasText',
  residual: 'LinkText',
};
