/** Real and imaginary part: an integration takes a million products, for which a library's checks are too slow. */
type Complex = readonly [re: number, im: number];
const times = ([a, b]: Complex, [c, d]: Complex): Complex => [a * c - b * d, a * d + b * c];
const over = (one: Complex, [c, d]: Complex): Complex => {
  const size = c * c + d * d;
  return times(one, [c / size, -d / size]);
};

/** A layer whose complex index changes linearly by `change` about its mean [n, k], from the substrate up. */
export interface SlopedLayer {
  readonly index: readonly [number, number];
  readonly change: number;
  readonly thicknessNm: number;
}

/**
 * R and T of sloped layers by Runge and Kutta's classical method (Press et al., Numerical Recipes, sec. 16.1) on the
 * first-order wave equations of the tangential fields, with k0 = 2π/λ and q² = N² − (n0 sin θ0)²:
 *   s: dB/dz = i k0 C, dC/dz = i k0 q² B;  p: dB/dz = i k0 q²/N² C, dC/dz = i k0 N² B
 * (Born & Wolf, Principles of Optics, sec. 1.6.1). It knows no layer matrix and no sublayer.
 */
export function integrateGraded(
  incidentN: number,
  layers: readonly SlopedLayer[],
  substrateN: number,
  wavelengthNm: number,
  incidenceRad: number,
  polarization: 's' | 'p',
  stepsPerLayer = 800,
): { R: number; T: number } {
  const k0 = (2 * Math.PI) / wavelengthNm;
  const transverse = (incidentN * Math.sin(incidenceRad)) ** 2;
  const admittance = (n: number) => {
    const q = Math.sqrt(n * n - transverse);
    return polarization === 's' ? q : (n * n) / q;
  };
  let field: readonly [Complex, Complex] = [
    [1, 0],
    [admittance(substrateN), 0],
  ];
  for (const { index, change, thicknessNm } of layers) {
    const slope = (z: number, [b, c]: readonly [Complex, Complex]): readonly [Complex, Complex] => {
      const factor = 1 + change * (z / thicknessNm - 0.5);
      const n: Complex = [index[0] * factor, -index[1] * factor];
      const nn = times(n, n);
      const qq: Complex = [nn[0] - transverse, nn[1]];
      const ik: Complex = [0, k0];
      return polarization === 's'
        ? [times(ik, c), times(ik, times(qq, b))]
        : [times(ik, times(over(qq, nn), c)), times(ik, times(nn, b))];
    };
    const h = thicknessNm / stepsPerLayer;
    const along = (one: 0 | 1, by: number, way: readonly [Complex, Complex]): Complex => [
      field[one][0] + by * way[one][0],
      field[one][1] + by * way[one][1],
    ];
    const moved = (by: number, way: readonly [Complex, Complex]) =>
      [along(0, by, way), along(1, by, way)] as const;
    for (let i = 0; i < stepsPerLayer; i++) {
      const k1 = slope(i * h, field);
      const k2 = slope((i + 0.5) * h, moved(h / 2, k1));
      const k3 = slope((i + 0.5) * h, moved(h / 2, k2));
      const k4 = slope((i + 1) * h, moved(h, k3));
      const sum = (one: 0 | 1): Complex => [
        k1[one][0] + 2 * k2[one][0] + 2 * k3[one][0] + k4[one][0],
        k1[one][1] + 2 * k2[one][1] + 2 * k3[one][1] + k4[one][1],
      ];
      field = moved(h / 6, [sum(0), sum(1)]);
    }
  }
  const y0 = admittance(incidentN);
  const [[bRe, bIm], [cRe, cIm]] = field;
  const forth = (y0 * bRe + cRe) ** 2 + (y0 * bIm + cIm) ** 2;
  return {
    R: ((y0 * bRe - cRe) ** 2 + (y0 * bIm - cIm) ** 2) / forth,
    T: (4 * y0 * admittance(substrateN)) / forth,
  };
}
