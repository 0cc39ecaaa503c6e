import type { RunOptions } from 'axe-core';

/** The only ones of axe-core's rules that look at colours: another theme of what all rules have seen needs no more. */
export const RULES_OF_COLOUR = ['color-contrast', 'link-in-text-block'];

/**
 * What is asked beyond the settled rules. On: that a control's name holds its visible text (WCAG 2.5.3), which axe-core
 * counts as experimental. Off: that everything lies in a landmark, since a link that skips to the station lies before them all.
 */
export const RULES_BESIDES = {
  'label-content-name-mismatch': { enabled: true },
  region: { enabled: false },
} satisfies RunOptions['rules'];
