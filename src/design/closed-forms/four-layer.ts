import { quarterWaveNm } from './quarter-wave.ts';
import { twoLayerZeros } from './two-layer-zero.ts';

/** Real indices of a stack made of a low and a high material. */
export interface FourLayerIndices {
  readonly incident: number;
  readonly low: number;
  readonly high: number;
  readonly substrate: number;
}

/**
 * Four layers with a thin inner pair, in the order of deposition (thin high, thin low, half wave high, quarter wave
 * low), thicknesses in nm: a quarter-half-quarter stack whose inner quarter wave of a middle index is
 * replaced by two thin layers which turn the substrate's admittance into nl²/n0 exactly, so that the outer quarter
 * wave leaves nothing at `wavelengthNm` (H. A. Macleod, Thin-Film Optical Filters, sec. 3.4, after
 * A. J. Vermeulen 1971; from memory). The inner pair is the two-layer zero towards a medium of that admittance.
 * Several solutions come thinnest first; none where the indices do not allow it.
 */
export function fourLayerThinPair(indices: FourLayerIndices, wavelengthNm: number): number[][] {
  const { incident, low, high, substrate } = indices;
  const wanted = (low * low) / incident;
  if (wanted < 1 || wanted > 10) return [];
  const pairs = twoLayerZeros({ incident: wanted, outer: low, inner: high, substrate }, wavelengthNm);
  return pairs
    .sort((one, other) => one.innerNm + one.outerNm - other.innerNm - other.outerNm)
    .map(({ innerNm, outerNm }) => [
      innerNm,
      outerNm,
      quarterWaveNm(high, wavelengthNm, 2),
      quarterWaveNm(low, wavelengthNm),
    ]);
}
