import type { Medium } from './medium.ts';

/** A stack with its indices on a grid of wavelengths (nm). `layers[0]` lies on the substrate; the incident medium has k = 0. */
export interface StackOnGrid {
  readonly wavelengthNm: Float64Array;
  readonly incident: Medium;
  readonly layers: readonly Medium[];
  readonly substrate: Medium;
}
