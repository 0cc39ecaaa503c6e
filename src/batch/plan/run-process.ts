import type { Batch, MaterialProcess } from '../document.ts';
import { shadeOf } from './distribution-plan.ts';
import { processOf } from './film-facts.ts';
import { planLoad } from './load-plan.ts';
import { vapourOf } from './vapour-of.ts';

/**
 * A material's settings as the run meets them. The shop's toolings hold for the chamber as it was when they were measured; a
 * shield that came since takes film from the lenses and not from the crystal, so both toolings are carried over to it by the
 * geometry's own ratio.
 */
export function runProcessOf(document: Batch, id: string): MaterialProcess {
  const process = processOf(document, id);
  if (vapourOf(document, id).every(({ shields }) => shields.length === 0)) return process;
  const { crystalFactor, witnessFactor } = shadeOf(document, id, planLoad(document));
  return {
    ...process,
    crystalTooling: process.crystalTooling * crystalFactor,
    witnessTooling: process.witnessTooling * witnessFactor,
  };
}
