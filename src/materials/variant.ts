import * as v from 'valibot';
import { InputError } from '../base/errors.ts';
import { quantity } from '../base/schema.ts';
import type { IndexCurves } from './dispersion.ts';
import { packedIndex, packing, WATER_MODEL_END_NM } from './packing.ts';

/** What the shop's chamber makes of a dense, clean material; the packing comes first, then n × scale, k + added. */
export const variantFields = {
  packing: v.exactOptional(packing),
  indexScale: v.optional(quantity('', { min: 0.5, max: 2 }, 'factor on n, after the packing'), 1),
  addedK: v.optional(quantity('', { min: 0, max: 10 }, 'added to k at every wavelength'), 0),
};

/** A variant as a record carries it. */
export const variant = v.strictObject(variantFields);

export type Variant = v.InferOutput<typeof variant>;

/** The curves of a variant from those of the material. */
export function variantCurves(
  base: IndexCurves,
  { packing: given, indexScale, addedK }: Variant,
): IndexCurves {
  const value = (nm: number) => {
    const solid = { n: base.n(nm), k: base.k(nm) };
    return given === undefined ? solid : packedIndex(solid, given);
  };
  return { n: (nm) => value(nm).n * indexScale, k: (nm) => value(nm).k + addedK };
}

/** The changes in a few words, none where nothing is changed: "packing 0.9 with water", "n × 0.98". */
export function variantWords({ packing: given, indexScale, addedK }: Variant): string[] {
  return [
    given === undefined || given.density === 1
      ? ''
      : `packing ${given.density} with ${given.voids === 'water' ? 'water' : 'empty voids'}`,
    indexScale === 1 ? '' : `n × ${indexScale}`,
    addedK === 0 ? '' : `k + ${addedK}`,
  ].filter((change) => change !== '');
}

/** What a variant is not good for, where there is such a thing. */
export function variantCaution({ packing: given }: Variant): string | undefined {
  return given?.voids === 'water' && given.density < 1
    ? `absorption of the water in the voids is left out, which matters beyond ${WATER_MODEL_END_NM} nm`
    : undefined;
}

/**
 * One variant made of two, the second applied to the first.
 * @throws InputError where both give a packing.
 */
export function composeVariants(first: Variant, second: Variant): Variant {
  if (first.packing !== undefined && second.packing !== undefined)
    throw new InputError('packing', 'the material has a packing already; start from the dense material');
  const given = first.packing ?? second.packing;
  return {
    ...(given === undefined ? {} : { packing: given }),
    indexScale: first.indexScale * second.indexScale,
    addedK: first.addedK + second.addedK,
  };
}
