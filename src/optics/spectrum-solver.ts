import type { StackOnGrid } from './stack-on-grid.ts';

export type Polarization = 's' | 'p';

/** Numbers kept a layer and wavelength: admittance η (re, im) and phase per nm (re, im). */
const LAYER = 4;
/** Numbers kept a layer while one wavelength is computed: B (re, im), C (re, im), the logarithm of their scale. */
const STATE = 5;

/**
 * Reflectance and transmittance of one surface at one angle and polarization, for any thicknesses (Abelès
 * 1950; Born & Wolf, Principles of Optics, sec. 1.6): tables are made once, then only thicknesses change.
 * [B;C] runs from [1; η_sub] up through the layers; every layer's matrix is divided by exp(|Im δ|), whose
 * logarithm is kept, so that thick absorbing layers cannot overflow.
 */
export class SpectrumSolver {
  readonly wavelengthCount: number;
  readonly layerCount: number;
  readonly #incident: Float64Array;
  readonly #substrate: Float64Array;
  readonly #layer: Float64Array;
  readonly #state: Float64Array;

  /** @param incidenceRad angle in the incident medium, 0 to below π/2. */
  constructor(stack: StackOnGrid, incidenceRad: number, polarization: Polarization) {
    const { wavelengthNm, incident, layers, substrate } = stack;
    this.wavelengthCount = wavelengthNm.length;
    this.layerCount = layers.length;
    this.#incident = new Float64Array(this.wavelengthCount);
    this.#substrate = new Float64Array(2 * this.wavelengthCount);
    this.#layer = new Float64Array(LAYER * this.layerCount * this.wavelengthCount);
    this.#state = new Float64Array(STATE * (this.layerCount + 1));
    const sine = Math.sin(incidenceRad);
    const cosine = Math.cos(incidenceRad);
    for (let w = 0; w < this.wavelengthCount; w++) {
      const n0 = incident.n[w]!;
      this.#incident[w] = polarization === 's' ? n0 * cosine : n0 / cosine;
      const transverse = n0 * sine;
      const tilt = (n: number, k: number) => tilted(n, k, transverse, polarization);
      const [re, im] = tilt(substrate.n[w]!, substrate.k[w]!);
      this.#substrate.set([re, im], 2 * w);
      for (let l = 0; l < this.layerCount; l++) {
        const [etaRe, etaIm, ncRe, ncIm] = tilt(layers[l]!.n[w]!, layers[l]!.k[w]!);
        const wave = (2 * Math.PI) / wavelengthNm[w]!;
        this.#layer.set([etaRe, etaIm, wave * ncRe, wave * ncIm], LAYER * (w * this.layerCount + l));
      }
    }
  }

  /** Fills `reflectance` and `transmittance`, one value a wavelength; thicknesses in nm, from 0. */
  spectrum(thicknessNm: Float64Array, reflectance: Float64Array, transmittance: Float64Array): void {
    for (let w = 0; w < this.wavelengthCount; w++) this.#solve(w, thicknessNm, reflectance, transmittance);
  }

  /** The same with the derivatives per nm, at [wavelength * layerCount + layer]. */
  withDerivatives(
    thicknessNm: Float64Array,
    reflectance: Float64Array,
    transmittance: Float64Array,
    reflectanceDerivative: Float64Array,
    transmittanceDerivative: Float64Array,
  ): void {
    for (let w = 0; w < this.wavelengthCount; w++) {
      this.#solve(w, thicknessNm, reflectance, transmittance);
      this.#differentiate(w, thicknessNm, transmittance[w]!, reflectanceDerivative, transmittanceDerivative);
    }
  }

  #solve(w: number, thicknessNm: Float64Array, reflectance: Float64Array, transmittance: Float64Array): void {
    const state = this.#state;
    let bRe = 1;
    let bIm = 0;
    let cRe = this.#substrate[2 * w]!;
    let cIm = this.#substrate[2 * w + 1]!;
    let scale = 0;
    state.set([bRe, bIm, cRe, cIm, 0], 0);
    for (let l = 0; l < this.layerCount; l++) {
      const at = LAYER * (w * this.layerCount + l);
      const etaRe = this.#layer[at]!;
      const etaIm = this.#layer[at + 1]!;
      const delta = this.#layer[at + 2]! * thicknessNm[l]!;
      const decay = -this.#layer[at + 3]! * thicknessNm[l]!; // δ = delta − i decay, decay >= 0
      const small = Math.exp(-2 * decay);
      const sine = Math.sin(delta);
      const cosine = Math.cos(delta);
      // cos δ and i sin δ, both divided by exp(decay)
      const cosRe = (cosine * (1 + small)) / 2;
      const cosIm = (sine * (1 - small)) / 2;
      const sinRe = (cosine * (1 - small)) / 2;
      const sinIm = (sine * (1 + small)) / 2;
      const norm = etaRe * etaRe + etaIm * etaIm;
      const overRe = (sinRe * etaRe + sinIm * etaIm) / norm;
      const overIm = (sinIm * etaRe - sinRe * etaIm) / norm;
      const timesRe = sinRe * etaRe - sinIm * etaIm;
      const timesIm = sinIm * etaRe + sinRe * etaIm;
      const nextBRe = cosRe * bRe - cosIm * bIm + overRe * cRe - overIm * cIm;
      const nextBIm = cosRe * bIm + cosIm * bRe + overRe * cIm + overIm * cRe;
      const nextCRe = timesRe * bRe - timesIm * bIm + cosRe * cRe - cosIm * cIm;
      const nextCIm = timesRe * bIm + timesIm * bRe + cosRe * cIm + cosIm * cRe;
      bRe = nextBRe;
      bIm = nextBIm;
      cRe = nextCRe;
      cIm = nextCIm;
      scale += decay;
      const to = STATE * (l + 1);
      state[to] = bRe;
      state[to + 1] = bIm;
      state[to + 2] = cRe;
      state[to + 3] = cIm;
      state[to + 4] = scale;
    }
    const y0 = this.#incident[w]!;
    const sum = (y0 * bRe + cRe) ** 2 + (y0 * bIm + cIm) ** 2;
    reflectance[w] = ((y0 * bRe - cRe) ** 2 + (y0 * bIm - cIm) ** 2) / sum;
    transmittance[w] = ((4 * y0 * this.#substrate[2 * w]!) / sum) * Math.exp(-2 * scale);
  }

  /**
   * Above layer l the stack acts as a row (a, b) on [B; C] of the layer's upper boundary: y0 B + C = a B_l + b C_l. A
   * thicker layer changes [B_l; C_l] by i k [C_l / η; η B_l] per nm. With det M = 1 the change of r = (y0 B − C) /
   * (y0 B + C) is 2 y0 i k (C_l² / η − B_l² η) / (y0 B + C)².
   */
  #differentiate(
    w: number,
    thicknessNm: Float64Array,
    transmittance: number,
    dR: Float64Array,
    dT: Float64Array,
  ): void {
    const state = this.#state;
    const top = STATE * this.layerCount;
    const y0 = this.#incident[w]!;
    const sum: Complex = [y0 * state[top]! + state[top + 2]!, y0 * state[top + 1]! + state[top + 3]!];
    const difference: Complex = [y0 * state[top]! - state[top + 2]!, y0 * state[top + 1]! - state[top + 3]!];
    const r = over(difference, sum);
    let a: Complex = [y0, 0];
    let b: Complex = [1, 0];
    for (let l = this.layerCount - 1; l >= 0; l--) {
      const at = LAYER * (w * this.layerCount + l);
      const eta: Complex = [this.#layer[at]!, this.#layer[at + 1]!];
      const turn: Complex = [-this.#layer[at + 3]!, this.#layer[at + 2]!]; // i k
      const of = STATE * (l + 1);
      const B: Complex = [state[of]!, state[of + 1]!];
      const C: Complex = [state[of + 2]!, state[of + 3]!];
      // a and b carry the scale of the matrices above the layer, B and C that of those below: together the sum's.
      const changeOfSum = times(turn, plus(over(times(a, C), eta), times(b, times(eta, B))));
      dT[w * this.layerCount + l] = -2 * transmittance * over(changeOfSum, sum)[0];
      const scale = Math.exp(2 * (state[of + 4]! - state[top + 4]!));
      const square = times(times(B, B), eta);
      const g = plus(over(times(C, C), eta), [-square[0], -square[1]]);
      const dr = over(times(times([2 * y0 * scale, 0], turn), g), times(sum, sum));
      dR[w * this.layerCount + l] = 2 * (r[0] * dr[0] + r[1] * dr[1]);
      [a, b] = this.#rowBelow(w, l, thicknessNm[l]!, a, b);
    }
  }

  /** The row (a, b) carried down through layer l, divided by the layer's exp(decay). */
  #rowBelow(w: number, l: number, thicknessNm: number, a: Complex, b: Complex): [Complex, Complex] {
    const at = LAYER * (w * this.layerCount + l);
    const eta: Complex = [this.#layer[at]!, this.#layer[at + 1]!];
    const delta = this.#layer[at + 2]! * thicknessNm;
    const small = Math.exp(2 * this.#layer[at + 3]! * thicknessNm);
    const cos: Complex = [(Math.cos(delta) * (1 + small)) / 2, (Math.sin(delta) * (1 - small)) / 2];
    const sin: Complex = [(Math.cos(delta) * (1 - small)) / 2, (Math.sin(delta) * (1 + small)) / 2];
    return [plus(times(a, cos), times(b, times(sin, eta))), plus(times(a, over(sin, eta)), times(b, cos))];
  }
}

type Complex = readonly [number, number];

function plus(a: Complex, b: Complex): Complex {
  return [a[0] + b[0], a[1] + b[1]];
}

function times(a: Complex, b: Complex): Complex {
  return [a[0] * b[0] - a[1] * b[1], a[0] * b[1] + a[1] * b[0]];
}

function over(a: Complex, b: Complex): Complex {
  const norm = b[0] * b[0] + b[1] * b[1];
  return [(a[0] * b[0] + a[1] * b[1]) / norm, (a[1] * b[0] - a[0] * b[1]) / norm];
}

/**
 * N cos θ (s) or N / cos θ (p), and N cos θ itself, of a medium in which the transverse index n0 sin θ0 runs on. The root
 * taken is the one whose wave decays (N = n − ik, exp(+iωt)): its imaginary part is never above 0.
 */
function tilted(
  n: number,
  k: number,
  transverse: number,
  polarization: Polarization,
): [number, number, number, number] {
  const squareRe = n * n - k * k - transverse * transverse;
  const squareIm = -2 * n * k;
  const size = Math.hypot(squareRe, squareIm);
  const re =
    squareRe >= 0
      ? Math.sqrt((size + squareRe) / 2)
      : Math.abs(squareIm) / 2 / Math.sqrt((size - squareRe) / 2);
  const im = squareRe >= 0 ? (re === 0 ? 0 : squareIm / 2 / re) : -Math.sqrt((size - squareRe) / 2);
  if (polarization === 's') return [re, im, re, im];
  const [etaRe, etaIm] = over([n * n - k * k, squareIm], [re, im]);
  return [etaRe, etaIm, re, im];
}
