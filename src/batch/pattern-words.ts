/** Ways in which places stand on a rack, as drop-down, picture and traveller call them. */
export const PATTERN_WORDS: Readonly<Record<string, string>> = {
  best: 'whichever holds most',
  rings: 'rings',
  hexagonal: 'hexagonal rows',
  optimised: 'optimised places',
  rows: 'straight rows',
};

/** The pattern that the places have, and whether it was taken because it holds most. */
export function patternWords(wanted: string, taken: string): string {
  const words = PATTERN_WORDS[taken] ?? taken;
  return wanted === 'best' ? `${words}, which hold most` : words;
}
