import type { ThemeColours } from './token-names.ts';

/**
 * Beside the chamber in the dark: long wavelengths only and nothing bright, so that the eye keeps its
 * dark adaptation (rods hardly answer to deep red). Answers differ by sign and brightness, not by hue.
 */
export const chamberTheme: ThemeColours = {
  paper: '#070000',
  sheet: '#0e0101',
  well: '#030000',
  ink: '#f04a32',
  'ink-soft': '#e2432d',
  'ink-faint': '#d93f2a',
  rule: '#360a06',
  'rule-strong': '#ae3021',
  focus: '#ff6a48',
  met: '#e2432d',
  'met-wash': '#170302',
  missed: '#ff5c3e',
  'missed-wash': '#210402',
  watch: '#f04a32',
  'watch-wash': '#1b0302',
  'curve-1': '#ff5c3e',
  'curve-2': '#c93a26',
  'curve-3': '#e8452f',
  'curve-4': '#bd3623',
  'curve-5': '#d63d29',
  'curve-6': '#ae3021',
  ghost: '#6e1d13',
  glass: '#240604',
  'film-low': '#300805',
  'film-high': '#a82f1f',
  metal: '#2a0705',
  'ramp-low': '#3d0b06',
  'ramp-mid': '#8a2417',
  'ramp-high': '#ff5c3e',
  residual: '#b93623',
};
