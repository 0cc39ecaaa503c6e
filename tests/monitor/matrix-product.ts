import Complex from 'complex.js';

export interface PlainLayer {
  readonly n: number;
  readonly k?: number;
  readonly thicknessNm: number;
}

/**
 * R and T at one wavelength by the product of characteristic matrices (Born & Wolf sec. 1.6.2) with a library's
 * complex numbers: slow, plain and independent of the program's own kernels. layers[0] lies on the substrate.
 */
export function byMatrixProduct(
  incidentN: number,
  layers: readonly PlainLayer[],
  substrateN: number,
  wavelengthNm: number,
  incidenceRad = 0,
  polarization: 's' | 'p' = 's',
): { R: number; T: number } {
  const transverse = incidentN * Math.sin(incidenceRad);
  const along = (n: Complex) => {
    const root = n
      .mul(n)
      .sub(transverse * transverse)
      .sqrt();
    return root.im > 0 ? root.neg() : root;
  };
  const admittance = (n: Complex) => (polarization === 's' ? along(n) : n.mul(n).div(along(n)));
  const substrate = admittance(new Complex(substrateN, 0));
  const incident = admittance(new Complex(incidentN, 0));
  let b = new Complex(1, 0);
  let c = substrate;
  for (const { n, k = 0, thicknessNm } of layers) {
    const index = new Complex(n, -k);
    const delta = along(index).mul((2 * Math.PI * thicknessNm) / wavelengthNm);
    const eta = admittance(index);
    const i = new Complex(0, 1);
    const nextB = b.mul(delta.cos()).add(i.mul(delta.sin()).mul(c).div(eta));
    c = i.mul(delta.sin()).mul(eta).mul(b).add(delta.cos().mul(c));
    b = nextB;
  }
  const sum = incident.mul(b).add(c);
  return {
    R: incident.mul(b).sub(c).div(sum).abs() ** 2,
    T: (4 * incident.re * substrate.re) / sum.abs() ** 2,
  };
}
