/** The only ones of axe-core's rules that look at colours: another theme of what all rules have seen needs no more. */
export const RULES_OF_COLOUR = ['color-contrast', 'link-in-text-block'];
