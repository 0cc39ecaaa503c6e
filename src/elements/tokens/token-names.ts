/** Colours that every theme must define. The names say what a colour is for, never what it looks like. */
export const COLOUR_TOKENS = [
  // Surfaces, from the page to the place that is written into.
  'paper',
  'sheet',
  'well',
  // Writing and lines.
  'ink',
  'ink-soft',
  'ink-faint',
  'rule',
  'rule-strong',
  'focus',
  // Answers: each with a wash to stand on.
  'met',
  'met-wash',
  'missed',
  'missed-wash',
  'watch',
  'watch-wash',
  // Curves of a chart in the order in which they are used, and the ghost of the curve before the last edit.
  'curve-1',
  'curve-2',
  'curve-3',
  'curve-4',
  'curve-5',
  'curve-6',
  'ghost',
  // Matter: glass, the films from the lowest index to the highest, metal parts of the chamber.
  'glass',
  'film-low',
  'film-high',
  'metal',
  // Values over the load: too little, as wanted, too much.
  'ramp-low',
  'ramp-mid',
  'ramp-high',
  // The coating's residual colour until one has been computed.
  'residual',
] as const;

/** One colour's name, without its prefix `--cw-`. */
export type ColourToken = (typeof COLOUR_TOKENS)[number];

/** Every colour of a theme as `#rrggbb`. */
export type ThemeColours = Readonly<Record<ColourToken, string>>;
