/** Light of a few wavelengths whose weighted sum stands for what the monitor lets through. */
export interface SlitLight {
  /** Ascending. */
  readonly wavelengthNm: Float64Array;
  /** Sum 1. */
  readonly weight: Float64Array;
}

/**
 * How the monitor's light is spread: evenly over its bandwidth (as a narrow filter; also how spectra are averaged), or as
 * a triangle whose full width at half height is the bandwidth (a monochromator with equal slits: the image of the one
 * slides over the other, textbook relation).
 */
export type SlitShape = 'rectangular' | 'triangular';

/** Abscissae (from 0 up; mirrored) and weights of Gauss and Legendre's rules on -1 to 1 (Abramowitz & Stegun table 25.4). */
const GAUSS: Readonly<Record<3 | 4 | 5 | 8, readonly (readonly [number, number])[]>> = {
  3: [
    [0, 0.8888888888888888],
    [0.7745966692414834, 0.5555555555555556],
  ],
  4: [
    [0.3399810435848563, 0.6521451548625461],
    [0.8611363115940526, 0.3478548451374539],
  ],
  5: [
    [0, 0.5688888888888889],
    [0.5384693101056831, 0.4786286704993665],
    [0.906179845938664, 0.2369268850561891],
  ],
  8: [
    [0.1834346424956498, 0.362683783378362],
    [0.525532409916329, 0.3137066458778873],
    [0.7966664774136267, 0.2223810344533745],
    [0.9602898564975363, 0.1012285362903763],
  ],
};

/** Up to this share of the wavelength, a band takes so many points: each step keeps the mean of usual stacks to 1e-8. */
const FEW = 0.01;
const SOME = 0.04;

/**
 * The band as a few wavelengths.
 * @param wavelengthNm centre, nm. @param bandwidthNm see `SlitShape`, nm; 0 gives the one wavelength.
 */
export function slitLight(
  wavelengthNm: number,
  bandwidthNm: number,
  shape: SlitShape = 'rectangular',
): SlitLight {
  if (bandwidthNm === 0) return { wavelengthNm: Float64Array.of(wavelengthNm), weight: Float64Array.of(1) };
  const share = bandwidthNm / wavelengthNm;
  const points =
    shape === 'rectangular'
      ? mirrored(share <= FEW ? 3 : share <= SOME ? 5 : 8).map(([x, weight]) => [x / 2, weight] as const)
      : // Each flank of the triangle has its own rule.
        mirrored(4).flatMap(([x, weight]) => {
          const place = (1 + x) / 2;
          return [[-place, weight * (1 - place)] as const, [place, weight * (1 - place)] as const];
        });
  points.sort(([a], [b]) => a - b);
  const sum = points.reduce((total, [, weight]) => total + weight, 0);
  return {
    wavelengthNm: Float64Array.from(points, ([offset]) => wavelengthNm + offset * bandwidthNm),
    weight: Float64Array.from(points, ([, weight]) => weight / sum),
  };
}

function mirrored(points: 3 | 4 | 5 | 8): (readonly [number, number])[] {
  return GAUSS[points].flatMap(([x, weight]) =>
    x === 0 ? [[0, weight] as const] : [[-x, weight] as const, [x, weight] as const],
  );
}
