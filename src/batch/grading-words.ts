import type { LayerGrading } from '../materials/grading.ts';

/** "+7 % outwards" or "−7 % outwards". */
export function gradingWords({ indexChangePercent }: LayerGrading): string {
  return `${indexChangePercent < 0 ? '−' : '+'}${Math.abs(indexChangePercent)} % outwards`;
}
