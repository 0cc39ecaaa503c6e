import type { Medium } from './medium.ts';
import type { Polarization, StackOnGrid } from './stack-on-grid.ts';
import {
  LEAST_LAYER_NORMAL,
  LEAST_SUBSTRATE_NORMAL,
  type TiltedMedium,
  tiltMedium,
} from './tilted-admittance.ts';

/** R and T, and their derivatives with respect to n and k of every layer, each [wavelength * layerCount + layer]. */
export interface IndexJacobian {
  readonly R: Float64Array;
  readonly T: Float64Array;
  readonly derivative: {
    readonly R: { readonly n: Float64Array; readonly k: Float64Array };
    readonly T: { readonly n: Float64Array; readonly k: Float64Array };
  };
}

/** Numbers kept for each layer: those of its matrix, of the matrix's slope, and the field below it. */
const SCRATCH = 17;

/**
 * How R and T change with the index of each layer (N = n − ik), everything else held. The same determinants
 * as for thicknesses (see absorbing-jacobian.ts) with W = (dM/dN) V below the layer:
 *   dr/dN = 2 Y0 det[W, V] / D²,  dD/dN = det[W, U],
 *   dR/dn = 2 Re(r* dr/dN), dR/dk = 2 Im(r* dr/dN), dT/dn = −2T Re(dD/dN / D), dT/dk = −2T Im(dD/dN / D).
 * No layer may be graded, and the stack, the angle and the thicknesses (nm) must be legal: the callers see to both.
 * @param angleIn as `SpectrumSolver` takes it.
 */
export function indexJacobian(
  { wavelengthNm, incident, layers, substrate }: StackOnGrid,
  thicknessNm: Float64Array,
  incidenceRad: number,
  polarization: Polarization,
  angleIn: Medium = incident,
): IndexJacobian {
  const count = wavelengthNm.length;
  const layerCount = layers.length;
  const array = () => new Float64Array(count * layerCount);
  const R = new Float64Array(count);
  const T = new Float64Array(count);
  const derivative = { R: { n: array(), k: array() }, T: { n: array(), k: array() } };
  const tilted: TiltedMedium = { normalRe: 0, normalIm: 0, admittanceRe: 0, admittanceIm: 0 };
  const sine = Math.sin(incidenceRad);
  const cosine = Math.cos(incidenceRad);
  const scratch = new Float64Array(layerCount * SCRATCH);

  for (let w = 0; w < count; w++) {
    const tilt = ({ n, k }: Medium, least: number) =>
      tiltMedium(tilted, n[w]!, k[w]!, angleIn.n[w]!, sine, cosine, polarization, least);
    tilt(incident, LEAST_SUBSTRATE_NORMAL);
    const { admittanceRe: y0Re, admittanceIm: y0Im } = tilted;
    tilt(substrate, LEAST_SUBSTRATE_NORMAL);
    const substrateRe = tilted.admittanceRe;
    let bRe = 1;
    let bIm = 0;
    let cRe = substrateRe;
    let cIm = tilted.admittanceIm;
    let decay = 0;
    for (let j = 0, s = 0; j < layerCount; j++, s += SCRATCH) {
      const medium = layers[j]!;
      tilt(medium, LEAST_LAYER_NORMAL);
      const path = (2 * Math.PI * thicknessNm[j]!) / wavelengthNm[w]!;
      fillLayer(scratch, s, tilted, medium.n[w]!, medium.k[w]!, path, polarization);
      scratch[s + 12] = bRe;
      scratch[s + 13] = bIm;
      scratch[s + 14] = cRe;
      scratch[s + 15] = cIm;
      const cosRe = scratch[s]!;
      const cosIm = scratch[s + 1]!;
      const [downRe, downIm] = [scratch[s + 2]!, scratch[s + 3]!];
      const [upRe, upIm] = [scratch[s + 4]!, scratch[s + 5]!];
      const nextRe = cosRe * bRe - cosIm * bIm - (downRe * cIm + downIm * cRe);
      const nextIm = cosRe * bIm + cosIm * bRe + (downRe * cRe - downIm * cIm);
      const flowRe = cosRe * cRe - cosIm * cIm - (upRe * bIm + upIm * bRe);
      const flowIm = cosRe * cIm + cosIm * cRe + (upRe * bRe - upIm * bIm);
      bRe = nextRe;
      bIm = nextIm;
      cRe = flowRe;
      cIm = flowIm;
      decay += scratch[s + 16]!;
    }

    const frontRe = y0Re * bRe - y0Im * bIm;
    const frontIm = y0Re * bIm + y0Im * bRe;
    const [backRe, backIm] = [frontRe - cRe, frontIm - cIm];
    const [forthRe, forthIm] = [frontRe + cRe, frontIm + cIm];
    const perForth = 1 / (forthRe * forthRe + forthIm * forthIm);
    R[w] = (backRe * backRe + backIm * backIm) * perForth;
    T[w] = 4 * y0Re * substrateRe * perForth * Math.exp(-2 * decay);
    // dR = Re(weight · det[W, V]) with weight = 4 Y0 r* / D² = 4 Y0 (back · forth)* / |D|⁴, dT = Re(fall · det[W, U]).
    const common = 4 * perForth * perForth;
    const bothRe = common * (backRe * forthRe - backIm * forthIm);
    const bothIm = -common * (backRe * forthIm + backIm * forthRe);
    const weightRe = y0Re * bothRe - y0Im * bothIm;
    const weightIm = y0Re * bothIm + y0Im * bothRe;
    const fallRe = -2 * T[w]! * perForth * forthRe;
    const fallIm = 2 * T[w]! * perForth * forthIm;

    let above = 0;
    let firstRe = -1;
    let firstIm = 0;
    let secondRe = y0Re;
    let secondIm = y0Im;
    for (let j = layerCount - 1, s = j * SCRATCH; j >= 0; j--, s -= SCRATCH) {
      const [cosRe, cosIm] = [scratch[s]!, scratch[s + 1]!];
      const [downRe, downIm] = [scratch[s + 2]!, scratch[s + 3]!];
      const [upRe, upIm] = [scratch[s + 4]!, scratch[s + 5]!];
      const [turnRe, turnIm] = [scratch[s + 6]!, scratch[s + 7]!];
      const [fallsRe, fallsIm] = [scratch[s + 8]!, scratch[s + 9]!];
      const [risesRe, risesIm] = [scratch[s + 10]!, scratch[s + 11]!];
      const [belowRe, belowIm] = [scratch[s + 12]!, scratch[s + 13]!];
      const [flowRe, flowIm] = [scratch[s + 14]!, scratch[s + 15]!];
      // W = (dM/dN) V, dM/dN = (turn, i falls; i rises, turn).
      const topRe = turnRe * belowRe - turnIm * belowIm - (fallsRe * flowIm + fallsIm * flowRe);
      const topIm = turnRe * belowIm + turnIm * belowRe + (fallsRe * flowRe - fallsIm * flowIm);
      const lowRe = turnRe * flowRe - turnIm * flowIm - (risesRe * belowIm + risesIm * belowRe);
      const lowIm = turnRe * flowIm + turnIm * flowRe + (risesRe * belowRe - risesIm * belowIm);
      const sizeRe = topRe * cRe - topIm * cIm - (lowRe * bRe - lowIm * bIm);
      const sizeIm = topRe * cIm + topIm * cRe - (lowRe * bIm + lowIm * bRe);
      const reachRe = topRe * secondRe - topIm * secondIm - (lowRe * firstRe - lowIm * firstIm);
      const reachIm = topRe * secondIm + topIm * secondRe - (lowRe * firstIm + lowIm * firstRe);
      const grown = Math.exp(-2 * above);
      const here = w * layerCount + j;
      derivative.R.n[here] = grown * (weightRe * sizeRe - weightIm * sizeIm);
      derivative.R.k[here] = grown * (weightRe * sizeIm + weightIm * sizeRe);
      derivative.T.n[here] = fallRe * reachRe - fallIm * reachIm;
      derivative.T.k[here] = fallRe * reachIm + fallIm * reachRe;
      above += scratch[s + 16]!;
      // U under the layer: M⁻¹ U = (cos, −i down; −i up, cos) U.
      const nextRe = cosRe * firstRe - cosIm * firstIm + (downRe * secondIm + downIm * secondRe);
      const nextIm = cosRe * firstIm + cosIm * firstRe - (downRe * secondRe - downIm * secondIm);
      const restRe = cosRe * secondRe - cosIm * secondIm + (upRe * firstIm + upIm * firstRe);
      const restIm = cosRe * secondIm + cosIm * secondRe - (upRe * firstRe - upIm * firstIm);
      firstRe = nextRe;
      firstIm = nextIm;
      secondRe = restRe;
      secondIm = restIm;
      bRe = belowRe;
      bIm = belowIm;
      cRe = flowRe;
      cIm = flowIm;
    }
  }
  return { R, T, derivative };
}

/**
 * Fills a layer's matrix (cos, i down; i up, cos) and its derivative with respect to N (turn, i falls; i rises, turn), both
 * times exp(−|Im δ|). With x = 2π d / λ, q = N cos θ, δ = x q, S = sin δ / δ, g = (cos δ − S) / δ² and ε = N² everything is a
 * function of q², so that nothing is divided by q and the critical angle is no exception:
 *   s: down = x S, up = x q² S; falls = N x³ g, rises = N x (S + cos δ),
 *   p: down = x q² S / ε, up = x ε S; falls = N (x (S + cos δ) − 2 down) / ε, rises = N x (2 S + x² ε g),
 * and turn = −N x² S for both.
 */
function fillLayer(
  into: Float64Array,
  at: number,
  { normalRe, normalIm }: TiltedMedium,
  n: number,
  k: number,
  x: number,
  polarization: Polarization,
): void {
  const deltaRe = x * normalRe;
  const deltaIm = x * normalIm;
  const decay = -deltaIm;
  const odd = -Math.expm1(-2 * decay) / 2;
  const even = 1 - odd;
  const cosRe = even * Math.cos(deltaRe);
  const cosIm = odd * Math.sin(deltaRe);
  const sinRe = even * Math.sin(deltaRe);
  const sinIm = -odd * Math.cos(deltaRe);
  const size = deltaRe * deltaRe + deltaIm * deltaIm;
  const sRe = size === 0 ? 1 : (sinRe * deltaRe + sinIm * deltaIm) / size;
  const sIm = size === 0 ? 0 : (sinIm * deltaRe - sinRe * deltaIm) / size;
  const zRe = (deltaRe - deltaIm) * (deltaRe + deltaIm);
  const zIm = 2 * deltaRe * deltaIm;
  let gRe = 0;
  let gIm = 0;
  if (size < LARGEST_IN_SERIES) {
    for (let term = BEND_SERIES.length - 1; term >= 0; term--) {
      const re = gRe * zRe - gIm * zIm + BEND_SERIES[term]!;
      gIm = gRe * zIm + gIm * zRe;
      gRe = re;
    }
    const shrunk = Math.exp(-decay);
    gRe *= shrunk;
    gIm *= shrunk;
  } else {
    const [overRe, overIm] = [cosRe - sRe, cosIm - sIm];
    gRe = (overRe * zRe + overIm * zIm) / (size * size);
    gIm = (overIm * zRe - overRe * zIm) / (size * size);
  }
  const qqRe = (normalRe - normalIm) * (normalRe + normalIm);
  const qqIm = 2 * normalRe * normalIm;
  const bentRe = x * (qqRe * sRe - qqIm * sIm);
  const bentIm = x * (qqRe * sIm + qqIm * sRe);
  into[at] = cosRe;
  into[at + 1] = cosIm;
  setTimesIndex(into, at + 6, n, k, -x * x * sRe, -x * x * sIm);
  into[at + 16] = decay;
  if (polarization === 's') {
    into[at + 2] = x * sRe;
    into[at + 3] = x * sIm;
    into[at + 4] = bentRe;
    into[at + 5] = bentIm;
    setTimesIndex(into, at + 8, n, k, x ** 3 * gRe, x ** 3 * gIm);
    setTimesIndex(into, at + 10, n, k, x * (sRe + cosRe), x * (sIm + cosIm));
    return;
  }
  const epsRe = (n - k) * (n + k);
  const epsIm = -2 * n * k;
  const epsSize = (n * n + k * k) ** 2;
  const downRe = (bentRe * epsRe + bentIm * epsIm) / epsSize;
  const downIm = (bentIm * epsRe - bentRe * epsIm) / epsSize;
  into[at + 2] = downRe;
  into[at + 3] = downIm;
  into[at + 4] = x * (epsRe * sRe - epsIm * sIm);
  into[at + 5] = x * (epsRe * sIm + epsIm * sRe);
  const lessRe = x * (sRe + cosRe) - 2 * downRe;
  const lessIm = x * (sIm + cosIm) - 2 * downIm;
  setTimesIndex(
    into,
    at + 8,
    n,
    k,
    (lessRe * epsRe + lessIm * epsIm) / epsSize,
    (lessIm * epsRe - lessRe * epsIm) / epsSize,
  );
  setTimesIndex(
    into,
    at + 10,
    n,
    k,
    x * (2 * sRe + x * x * (epsRe * gRe - epsIm * gIm)),
    x * (2 * sIm + x * x * (epsRe * gIm + epsIm * gRe)),
  );
}

/** Stores N · (re + i im), N = n − ik. */
function setTimesIndex(into: Float64Array, at: number, n: number, k: number, re: number, im: number): void {
  into[at] = n * re + k * im;
  into[at + 1] = n * im - k * re;
}

/** (cos δ − sin δ / δ) / δ² by its series in δ², for |δ| < 0.1; the first term left out is below 1e-17 there. */
const BEND_SERIES = Float64Array.of(-1 / 3, 1 / 30, -1 / 840, 1 / 45_360, -1 / 3_991_680, 1 / 518_918_400);
const LARGEST_IN_SERIES = 0.01;
