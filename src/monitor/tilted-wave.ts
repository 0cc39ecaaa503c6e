/**
 * Admittance and wave number (rad/nm) of N = n - ik for a wave with this transverse index; the root of the cosine is the one
 * whose wave decays. `out` gets re, im of the admittance and of the wave number, whose imaginary part is not above 0.
 */
export function tiltedWave(
  n: number,
  k: number,
  transverse: number,
  nm: number,
  p: number,
  out: Float64Array,
): void {
  let alongRe = n;
  let alongIm = -k;
  if (transverse !== 0) {
    // (N cos θ)² = N² - transverse²
    const re = n * n - k * k - transverse * transverse;
    const im = -2 * n * k;
    const size = Math.hypot(re, im);
    // The larger part by its root, the smaller one from im = 2 alongRe alongIm, so that a tiny k keeps its digits.
    if (re >= 0) {
      alongRe = Math.sqrt((size + re) / 2);
      alongIm = size === 0 ? 0 : im / (2 * alongRe);
    } else {
      alongIm = -Math.sqrt((size - re) / 2);
      alongRe = im / (2 * alongIm);
    }
  }
  const wave = (2 * Math.PI) / nm;
  out[2] = alongRe * wave;
  out[3] = alongIm * wave;
  if (p === 0 || transverse === 0) {
    out[0] = alongRe;
    out[1] = alongIm;
    return;
  }
  // N / cos θ = N² / (N cos θ)
  const norm = alongRe * alongRe + alongIm * alongIm;
  const re = n * n - k * k;
  const im = -2 * n * k;
  out[0] = (re * alongRe + im * alongIm) / norm;
  out[1] = (im * alongRe - re * alongIm) / norm;
}
