import { significant } from '../../base/format.ts';
import { safeRateKPerMin } from '../../chamber/heating.ts';
import { findMaterial } from '../../materials/library.ts';
import type { Batch } from '../document.ts';
import { edgeThicknessMm } from '../lens-thickness.ts';
import { within } from './within.ts';

/** How fast the lens may be heated and cooled. */
export interface HeatLimit {
  readonly rateKPerMin: number;
  /** Whether the batch says so or the thickness of the glass. */
  readonly by: 'batch' | 'thickness';
  /** Where the lens is thickest, centre or edge. */
  readonly thicknessMm: number;
}

/**
 * What the records of glasses lack, as the data sheet of the crown 517642 has it (from memory): of most optical glasses
 * these differ by less than a third, while expansion and density are the record's own.
 */
const CROWN = { youngGPa: 82, poisson: 0.206, conductivityWPerMK: 1.114, heatJPerGK: 0.858 };
/** Tension that a polished surface is allowed, MPa (common practice, no source). */
const ALLOWED_MPA = 5;

/**
 * The fastest change of temperature that the lens bears: the batch's own figure, else that of a plate as thick as the lens is
 * anywhere (`safeRateKPerMin`).
 * @returns undefined for a crystal or semiconductor, and a glass whose expansion is not known: then none is assumed.
 */
export function heatLimit({ order: { lens }, materials }: Batch): HeatLimit | undefined {
  const thicknessMm = Math.max(lens.centreThicknessMm, edgeThicknessMm(lens));
  if (lens.maximumRateKPerMin !== undefined)
    return { rateKPerMin: lens.maximumRateKPerMin, by: 'batch', thicknessMm };
  const record = findMaterial(lens.substrate, materials);
  const expansionPerK = Math.max(0, ...(record?.bulk?.thermalExpansion ?? []).map(({ perK }) => perK));
  const densityGPerCm3 = record?.bulk?.densityGPerCm3;
  if (record?.kind !== 'glass' || densityGPerCm3 === undefined || expansionPerK <= 0) return undefined;
  const rateKPerMin = within('order.lens', () =>
    safeRateKPerMin({ ...CROWN, thicknessMm, expansionPerK, densityGPerCm3, allowedMPa: ALLOWED_MPA }),
  );
  return { rateKPerMin, by: 'thickness', thicknessMm };
}

/** What the limit does to a ramp that would begin at `freeKPerMin`; '' where it does nothing. */
export function heldWords(limit: HeatLimit | undefined, freeKPerMin: number): string {
  if (limit === undefined || limit.rateKPerMin >= freeKPerMin) return '';
  const whose =
    limit.by === 'batch' ? 'as the order says' : `for glass ${significant(limit.thicknessMm, 3)} mm thick`;
  return `, held to ${significant(limit.rateKPerMin, 2)} K/min ${whose}`;
}

/** Where the limit comes from, in a sentence. */
export function heatLimitWords(limit: HeatLimit | undefined, glass: string): string {
  if (limit === undefined)
    return `No limit is known for ${glass}: its maker's data sheet says how fast it may be heated and cooled.`;
  const rate = `${significant(limit.rateKPerMin, 2)} K/min`;
  if (limit.by === 'batch') return `At most ${rate}, as the order says.`;
  return `${glass}, ${significant(limit.thicknessMm, 3)} mm at its thickest, bears ${rate}: a plate whose faces run ahead of its middle by a parabola is under a tension of ${ALLOWED_MPA} MPa there (Timoshenko & Goodier, Theory of Elasticity). Expansion and density are the glass's own, elasticity and conductivity those of the crown 517642, from memory.`;
}
