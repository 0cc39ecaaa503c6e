import { innerIndexWanted } from './closed-forms/quarter-half-quarter.ts';
import type { PoolMaterial } from './design-problem.ts';
import type { StartingPlace, StartingStack } from './starting-stacks.ts';

/** A kind of closed form that the materials at hand don't give. */
export interface MissingForm {
  readonly kind: StartingStack['kind'];
  readonly name: string;
  /** What it would take, as the end of a sentence. */
  readonly needs: string;
}

/** What each kind is called. */
export const FORM_NAMES: Readonly<Record<StartingStack['kind'], string>> = {
  'quarter-wave': 'Single quarter wave',
  'two-layer-zero': 'Two layers, zero at one wavelength',
  'quarter-half-quarter': 'Quarter, half, quarter',
  'equivalent-period': 'Quarter, half, quarter with its inner index made of two materials',
  'four-layer-thin-pair': 'Four layers with a thin inner pair',
};

/** The kinds of which there is no stack, each with what it would take. */
export function missingForms(
  stacks: readonly StartingStack[],
  pool: readonly PoolMaterial[],
  { wavelengthNm, incidentIndex, substrateIndex }: StartingPlace,
): MissingForm[] {
  const at = Float64Array.of(wavelengthNm);
  const lowest = Math.min(...pool.map(({ index }) => index(at).n[0]!));
  const wanted = innerIndexWanted(lowest, incidentIndex, substrateIndex).toFixed(2);
  const needs: Readonly<Record<StartingStack['kind'], string>> = {
    'quarter-wave': 'a material of index 1 to 10',
    'two-layer-zero': `two materials whose indices allow a zero at ${wavelengthNm.toFixed(0)} nm on this glass`,
    'quarter-half-quarter': `three materials, the one on the glass of an index near ${wanted} between the others'`,
    'equivalent-period': `one material of an index below ${wanted} and one above`,
    'four-layer-thin-pair': `a high and a low index that allow a zero at ${wavelengthNm.toFixed(0)} nm on this glass`,
  };
  const present = new Set(stacks.map(({ kind }) => kind));
  return (Object.keys(FORM_NAMES) as StartingStack['kind'][])
    .filter((kind) => !present.has(kind))
    .map((kind) => ({ kind, name: FORM_NAMES[kind], needs: needs[kind] }));
}
