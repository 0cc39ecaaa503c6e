import type { Medium } from '../../../src/optics/medium.ts';
import type { StackOnGrid } from '../../../src/optics/stack-on-grid.ts';

/** An index that is the same at every wavelength. */
export function constant(count: number, n: number, k = 0): Medium {
  return { n: new Float64Array(count).fill(n), k: new Float64Array(count).fill(k) };
}

/** A stack of media without dispersion; each index is n or [n, k]. */
export function plainStack(
  wavelengthNm: readonly number[],
  incident: number,
  layers: readonly (number | readonly [number, number])[],
  substrate: number | readonly [number, number],
): StackOnGrid {
  const count = wavelengthNm.length;
  const medium = (index: number | readonly [number, number]) =>
    typeof index === 'number' ? constant(count, index) : constant(count, index[0], index[1]);
  return {
    wavelengthNm: Float64Array.from(wavelengthNm),
    incident: medium(incident),
    layers: layers.map(medium),
    substrate: medium(substrate),
  };
}

/** Both ends included, `count` points. */
export function span(from: number, to: number, count: number): number[] {
  return Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
}
