import { requireWithin } from '../base/errors.ts';

/** The 97.5 % point of the normal distribution (Abramowitz & Stegun table 26.5). */
const Z = 1.959963984540054;

/**
 * The 95 % score interval of a share that was met `hits` times in `trials` (E. B. Wilson, J. Am. Stat. Assoc. 22,
 * 209-212, 1927): it stays within 0 and 1 and says something even where none or all were met.
 * @throws InputError unless 0 <= hits <= trials and trials >= 1.
 */
export function wilsonInterval(hits: number, trials: number): [number, number] {
  requireWithin('trials', trials, '', { min: 1 });
  requireWithin('hits', hits, '', { min: 0, max: trials });
  const share = hits / trials;
  const z2 = (Z * Z) / trials;
  const middle = (share + z2 / 2) / (1 + z2);
  const half = (Z / (1 + z2)) * Math.sqrt((share * (1 - share)) / trials + z2 / (4 * trials));
  return [hits === 0 ? 0 : Math.max(0, middle - half), hits === trials ? 1 : Math.min(1, middle + half)];
}
