import type { MaterialProcess } from '../document.ts';

/** From where a material comes, in words: "gun-1", "gun-1 and gun-2". */
export function firingWords({ source, partner }: Pick<MaterialProcess, 'source' | 'partner'>): string {
  return partner === undefined ? source : `${source} and ${partner.source}`;
}
