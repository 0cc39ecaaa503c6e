import { parse } from '../../base/schema.ts';
import { type MaterialRecord, materialRecord } from '../record.ts';
import { composeVariants, type Variant, variantCaution, variantWords } from '../variant.ts';

/**
 * A material of the shop's own that is another one changed: porous, with n scaled, with k added. It carries
 * the other's data, so that it needs nothing but itself; published check values no longer hold and are
 * left out.
 * @param base the dense, clean material; one that is a variant itself is changed further.
 * @throws InputError where the id, the name or the change is not legal, or both give a packing.
 */
export function makeVariant(
  { checks: _, variant: before, caution, ...base }: MaterialRecord,
  naming: { readonly id: string; readonly name: string },
  change: Partial<Variant>,
): MaterialRecord {
  const wanted = parse(materialRecord, { ...base, ...naming, variant: change });
  const unchanged = { indexScale: 1, addedK: 0 };
  const variant = composeVariants(before ?? unchanged, wanted.variant ?? unchanged);
  const cautions = [caution, variantCaution(variant)].filter((text) => text !== undefined);
  return {
    ...wanted,
    description: `${base.name} as deposited here: ${variantWords(variant).join(', ') || 'unchanged'}`,
    variant,
    ...(cautions.length === 0 ? {} : { caution: [...new Set(cautions)].join('; ') }),
  };
}
