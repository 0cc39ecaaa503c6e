import Complex from 'complex.js';

/**
 * Reflectance of lossless layers at normal incidence by the product of 2×2 characteristic matrices, written with
 * general complex numbers: slow and independent of the engine.
 */
export function matrixReflectance(
  wavelengthNm: number,
  incident: number,
  layers: readonly { n: number; thicknessNm: number }[],
  substrate: number,
): number {
  let b = new Complex(1, 0);
  let c = new Complex(substrate, 0);
  for (const { n, thicknessNm } of layers) {
    const phase = (2 * Math.PI * n * thicknessNm) / wavelengthNm;
    const cos = new Complex(Math.cos(phase), 0);
    const iSin = new Complex(0, Math.sin(phase));
    const above = cos.mul(b).add(iSin.div(n).mul(c));
    c = iSin.mul(n).mul(b).add(cos.mul(c));
    b = above;
  }
  const y0b = b.mul(incident);
  return (y0b.sub(c).abs() / y0b.add(c).abs()) ** 2;
}
