import type { ResolvedIndex } from '../materials/index-spec.ts';

/** A sentence on the wavelengths (nm) where a material is used outside its data; `undefined` where it is not. */
export function rangeWarning(
  { inRange, label }: Pick<ResolvedIndex, 'inRange' | 'label'>,
  wavelengthNm: Float64Array,
): string | undefined {
  const outside = wavelengthNm.filter((_, i) => inRange[i] === false);
  if (outside.length === 0) return undefined;
  const [from, to] = [Math.min(...outside), Math.max(...outside)];
  const where = from === to ? `at ${from} nm` : `at ${outside.length} wavelengths from ${from} to ${to} nm`;
  return `${label} is used outside the range of its data ${where}; its index there is held from the nearest wavelength that has data.`;
}
