/** Numbers kept of each film in each channel: admittance (re, im), wave number (re, im). */
export const FILM = 4;
/** Numbers kept of what lies below a film in each channel: r, u and r' (re, im each). */
export const BELOW = 6;
/** Numbers of what a film sees below. */
export const SEEN = 10;

type Ten = [number, number, number, number, number, number, number, number, number, number];

/**
 * What lies below, seen from inside a film, into `seen`: q = r01 of the interface from the incident medium to
 * the film, then with g = 1 - q r: rL = (r - q) / g, v = uL (1 - q²), w = uL q, r'L = r' + u q / g, where
 * uL = u (1 - q²) / g².
 * @param film at `at` its admittance and wave number. @param y0 admittance of the incident medium.
 * @param below at `b` the r, u and r' of what lies below. @param seen gets q, rL, v, w and r'L, each re and im.
 */
export function lookInto(
  film: Float64Array,
  at: number,
  y0: number,
  below: Float64Array,
  b: number,
  seen: Float64Array,
): void {
  const nRe = film[at]!;
  const nIm = film[at + 1]!;
  const norm = (y0 + nRe) ** 2 + nIm ** 2;
  const qRe = (y0 * y0 - nRe * nRe - nIm * nIm) / norm;
  const qIm = (-2 * y0 * nIm) / norm;
  const rRe = below[b]!;
  const rIm = below[b + 1]!;
  const gRe = 1 - (qRe * rRe - qIm * rIm);
  const gIm = -(qRe * rIm + qIm * rRe);
  const gNorm = gRe * gRe + gIm * gIm;
  const hRe = gRe / gNorm;
  const hIm = -gIm / gNorm;
  const sRe = 1 - qRe * qRe + qIm * qIm;
  const sIm = -2 * qRe * qIm;
  const uRe = below[b + 2]!;
  const uIm = below[b + 3]!;
  const uhRe = uRe * hRe - uIm * hIm;
  const uhIm = uRe * hIm + uIm * hRe;
  const shRe = sRe * hRe - sIm * hIm;
  const shIm = sRe * hIm + sIm * hRe;
  const ulRe = uhRe * shRe - uhIm * shIm;
  const ulIm = uhRe * shIm + uhIm * shRe;
  seen[0] = qRe;
  seen[1] = qIm;
  seen[2] = (rRe - qRe) * hRe - (rIm - qIm) * hIm;
  seen[3] = (rRe - qRe) * hIm + (rIm - qIm) * hRe;
  seen[4] = ulRe * sRe - ulIm * sIm;
  seen[5] = ulRe * sIm + ulIm * sRe;
  seen[6] = ulRe * qRe - ulIm * qIm;
  seen[7] = ulRe * qIm + ulIm * qRe;
  seen[8] = below[b + 4]! + uhRe * qRe - uhIm * qIm;
  seen[9] = below[b + 5]! + uhRe * qIm + uhIm * qRe;
}

/**
 * Puts a film of this thickness, nm, on what it sees below.
 * @param state gets r, u and r' of both together. @param slope their derivatives with respect to the thickness, where given.
 */
export function growFilm(
  film: Float64Array,
  at: number,
  seen: Float64Array,
  thicknessNm: number,
  state: Float64Array,
  slope?: Float64Array,
): void {
  const [qRe, qIm, lRe, lIm, vRe, vIm, wRe, wIm, backRe, backIm] = seen as unknown as Ten;
  const waveRe = film[at + 2]!;
  const waveIm = film[at + 3]!;
  // e = exp(-2 i δ) and the closed sum over all passes, d = 1 / (1 + q rL e).
  const decay = Math.exp(2 * waveIm * thicknessNm);
  const phase = -2 * waveRe * thicknessNm;
  const eRe = decay * Math.cos(phase);
  const eIm = decay * Math.sin(phase);
  const leRe = lRe * eRe - lIm * eIm;
  const leIm = lRe * eIm + lIm * eRe;
  const mRe = 1 + qRe * leRe - qIm * leIm;
  const mIm = qRe * leIm + qIm * leRe;
  const mNorm = mRe * mRe + mIm * mIm;
  const dRe = mRe / mNorm;
  const dIm = -mIm / mNorm;
  const ddRe = dRe * dRe - dIm * dIm;
  const ddIm = 2 * dRe * dIm;
  // r = (q + rL e) d
  state[0] = (qRe + leRe) * dRe - (qIm + leIm) * dIm;
  state[1] = (qRe + leRe) * dIm + (qIm + leIm) * dRe;
  // u = v e d²
  const veRe = vRe * eRe - vIm * eIm;
  const veIm = vRe * eIm + vIm * eRe;
  state[2] = veRe * ddRe - veIm * ddIm;
  state[3] = veRe * ddIm + veIm * ddRe;
  // r' = r'L - w e d
  const edRe = eRe * dRe - eIm * dIm;
  const edIm = eRe * dIm + eIm * dRe;
  state[4] = backRe - (wRe * edRe - wIm * edIm);
  state[5] = backIm - (wRe * edIm + wIm * edRe);
  if (slope === undefined) return;

  // de/d(thickness) = -2 i κ e, with κ = waveRe + i waveIm; x = d² de.
  const deRe = 2 * (waveIm * eRe + waveRe * eIm);
  const deIm = 2 * (waveIm * eIm - waveRe * eRe);
  const xRe = deRe * ddRe - deIm * ddIm;
  const xIm = deRe * ddIm + deIm * ddRe;
  // dr = rL (1 - q²) x
  const sRe = 1 - qRe * qRe + qIm * qIm;
  const sIm = -2 * qRe * qIm;
  const lsRe = lRe * sRe - lIm * sIm;
  const lsIm = lRe * sIm + lIm * sRe;
  slope[0] = lsRe * xRe - lsIm * xIm;
  slope[1] = lsRe * xIm + lsIm * xRe;
  // du = v (1 - q rL e) d x, for d(e d²)/de = d³ (1 - q rL e)
  const fRe = (2 - mRe) * dRe + mIm * dIm;
  const fIm = (2 - mRe) * dIm - mIm * dRe;
  const fxRe = xRe * fRe - xIm * fIm;
  const fxIm = xRe * fIm + xIm * fRe;
  slope[2] = vRe * fxRe - vIm * fxIm;
  slope[3] = vRe * fxIm + vIm * fxRe;
  // dr' = -w x
  slope[4] = -(wRe * xRe - wIm * xIm);
  slope[5] = -(wRe * xIm + wIm * xRe);
}
