/**
 * Numbers a boundary has: half turns and octaves per nm of the layer below it; η below over η above, real and imaginary
 * part; and the slope iκη of the layer below it, likewise.
 *
 * iκ is what multiplies a field whose phase δ = κ d grows: π half turns make its imaginary part, ln 2 / 2 octaves
 * (GROWTH_PER_OCTAVE) its real part, both per nm.
 */
export const BOUNDARY_STRIDE = 6;
export const GROWTH_PER_OCTAVE = 0.5 * Math.LN2;

/** The upper boundaries of a stack's layers; layers that have the same media below and above share one. */
export interface Boundaries {
  /** For each layer the place of its upper boundary. */
  readonly boundaryOf: Int32Array;
  /** The media below and above each; −1 is free space, which lies above the last layer. */
  readonly media: readonly (readonly [number, number])[];
}

/** @param mediumOf for each layer the place of its medium. */
export function boundariesOf(mediumOf: Int32Array): Boundaries {
  const places = new Map<string, number>();
  const media: (readonly [number, number])[] = [];
  const boundaryOf = mediumOf.map((below, j) => {
    const pair = [below, mediumOf[j + 1] ?? -1] as const;
    const key = pair.join(' ');
    const place = places.get(key) ?? media.push(pair) - 1;
    places.set(key, place);
    return place;
  });
  return { boundaryOf, media };
}
