/** "lot LW-2611-04"; a name that says "lot" itself is left as it is. */
export function lotWords(lot: string): string {
  return /^lot\b/i.test(lot.trim()) ? lot : `lot ${lot}`;
}
