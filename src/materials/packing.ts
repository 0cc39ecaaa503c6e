import * as v from 'valibot';
import { quantity, word } from '../base/schema.ts';
import { type IndexValue, MIXTURE_RULES, mixIndex } from './mixture.ts';

/** What fills the voids of a porous film: nothing under vacuum, water once it has stood in damp air. */
export const packing = v.strictObject({
  density: quantity('', { min: 0.3, max: 1 }, 'fraction of the volume that is solid'),
  voids: v.optional(word(['vacuum', 'water']), 'vacuum'),
  rule: v.optional(word(MIXTURE_RULES), 'linear'),
});

export type Packing = v.InferOutput<typeof packing>;

/**
 * Index of what fills the voids. Water: 1.333 at 589.3 nm and 20 °C (handbook value, from memory), taken as
 * constant; its absorption near 3 and 6 µm is left out.
 */
export const VOID_INDEX: Readonly<Record<Packing['voids'], number>> = { vacuum: 1, water: 1.333 };

/** Beyond this wavelength water in the voids absorbs, which the model leaves out (from memory). */
export const WATER_MODEL_END_NM = 1350;

/** The index of a film of the given packing whose solid has the index `solid`. */
export function packedIndex(solid: IndexValue, { density, voids, rule }: Packing): IndexValue {
  return mixIndex(rule, density, solid, { n: VOID_INDEX[voids], k: 0 });
}

/**
 * By what fraction a layer's optical thickness, and with it the wavelength of its extrema, grows when damp
 * air fills the voids that were empty in the chamber: n(water)/n(vacuum) − 1, at constant thickness. Shops
 * see it as the vacuum-to-air shift: a stack is aimed that much short.
 */
export function vacuumToAirShift(solid: IndexValue, given: Packing): number {
  const inVacuum = packedIndex(solid, { ...given, voids: 'vacuum' });
  const inAir = packedIndex(solid, { ...given, voids: 'water' });
  return inAir.n / inVacuum.n - 1;
}
