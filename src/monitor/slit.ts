/** Light of a few wavelengths whose weighted sum stands for what passes the monochromator. */
export interface SlitLight {
  readonly wavelengthNm: Float64Array;
  /** Sum 1. */
  readonly weight: Float64Array;
}

/** Abscissae (0..1) and weights of Gauss and Legendre's rule with four points (Abramowitz & Stegun table 25.4). */
const GAUSS = [
  [0.5 - 0.8611363115940526 / 2, 0.3478548451374539 / 2],
  [0.5 - 0.3399810435848563 / 2, 0.6521451548625461 / 2],
  [0.5 + 0.3399810435848563 / 2, 0.6521451548625461 / 2],
  [0.5 + 0.8611363115940526 / 2, 0.3478548451374539 / 2],
] as const;

/**
 * A monochromator with equal slits passes a triangle over the wavelength whose full width at half height is its
 * bandwidth (textbook relation: the entrance slit's image slides over the exit slit). The mean over it is
 * taken by four Gauss points on each flank: exact for signals up to the sixth power of the wavelength.
 *
 * @param wavelengthNm centre, nm. @param bandwidthNm full width at half height, nm; 0 gives the one wavelength.
 */
export function slitLight(wavelengthNm: number, bandwidthNm: number): SlitLight {
  if (bandwidthNm === 0) return { wavelengthNm: Float64Array.of(wavelengthNm), weight: Float64Array.of(1) };
  const points = GAUSS.flatMap(([place, weight]) => [
    { offset: -place, weight: weight * (1 - place) },
    { offset: place, weight: weight * (1 - place) },
  ]).sort((a, b) => a.offset - b.offset);
  const sum = points.reduce((total, { weight }) => total + weight, 0);
  return {
    wavelengthNm: Float64Array.from(points, ({ offset }) => wavelengthNm + offset * bandwidthNm),
    weight: Float64Array.from(points, ({ weight }) => weight / sum),
  };
}
