import type { CutRule } from './cut-rule.ts';

/** The cut rules as the technician says them. */
export const RULE_WORDS: Readonly<Record<CutRule, string>> = {
  level: 'level',
  swing: 'rescaled level',
  'turning-point': 'turning point',
  crystal: 'crystal',
  time: 'time',
};
