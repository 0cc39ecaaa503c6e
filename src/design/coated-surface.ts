import type { Medium } from '../optics/medium.ts';

/** An index by wavelength (nm): what a material, a number or a table boils down to. */
export type IndexFunction = (wavelengthNm: Float64Array) => Medium;

export interface CoatedLayer {
  readonly index: IndexFunction;
  readonly thicknessNm: number;
}

/** A coated surface as the light sees it. `layers[0]` lies on the substrate. */
export interface CoatedSurface {
  readonly incident: IndexFunction;
  readonly layers: readonly CoatedLayer[];
  readonly substrate: IndexFunction;
  /** The rest of a plate; absent: the light that enters the substrate counts as transmitted. */
  readonly plate?: PlateBehind;
}

/** A plane-parallel plate's second surface; `backLayers[0]` lies on the substrate. Added without interference. */
export interface PlateBehind {
  readonly thicknessMm: number;
  readonly backLayers: readonly CoatedLayer[];
  readonly exit: IndexFunction;
}

/** A material that never disperses; `n` from 1, `k` from 0. */
export function constantIndex(n: number, k = 0): IndexFunction {
  return (wavelengthNm) => ({
    n: new Float64Array(wavelengthNm.length).fill(n),
    k: new Float64Array(wavelengthNm.length).fill(k),
  });
}

/** The same function, asked once for each array of wavelengths, so that equal layers share one `Medium`. */
export function rememberIndex(index: IndexFunction): IndexFunction {
  const known = new WeakMap<Float64Array, Medium>();
  return (wavelengthNm) => {
    const found = known.get(wavelengthNm);
    if (found !== undefined) return found;
    const medium = index(wavelengthNm);
    known.set(wavelengthNm, medium);
    return medium;
  };
}
