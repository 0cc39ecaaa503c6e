import Complex from 'complex.js';

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
  let field: readonly [Complex, Complex] = [new Complex(1), new Complex(admittance(substrateN))];
  for (const { index, change, thicknessNm } of layers) {
    const slope = (z: number, [b, c]: readonly [Complex, Complex]): readonly [Complex, Complex] => {
      const factor = 1 + change * (z / thicknessNm - 0.5);
      const n = new Complex(index[0] * factor, -index[1] * factor);
      const nn = n.mul(n);
      const qq = nn.sub(transverse);
      const ik = new Complex(0, k0);
      return polarization === 's'
        ? [ik.mul(c), ik.mul(qq).mul(b)]
        : [ik.mul(qq).div(nn).mul(c), ik.mul(nn).mul(b)];
    };
    const h = thicknessNm / stepsPerLayer;
    const moved = (by: number, along: readonly [Complex, Complex]): readonly [Complex, Complex] => [
      field[0].add(along[0].mul(by)),
      field[1].add(along[1].mul(by)),
    ];
    for (let i = 0; i < stepsPerLayer; i++) {
      const k1 = slope(i * h, field);
      const k2 = slope((i + 0.5) * h, moved(h / 2, k1));
      const k3 = slope((i + 0.5) * h, moved(h / 2, k2));
      const k4 = slope((i + 1) * h, moved(h, k3));
      const sum = (at: 0 | 1) => k1[at].add(k2[at].mul(2)).add(k3[at].mul(2)).add(k4[at]);
      field = moved(h / 6, [sum(0), sum(1)]);
    }
  }
  const y0 = admittance(incidentN);
  const forth = field[0].mul(y0).add(field[1]);
  return {
    R: (field[0].mul(y0).sub(field[1]).abs() / forth.abs()) ** 2,
    T: (4 * y0 * admittance(substrateN)) / forth.abs() ** 2,
  };
}
