import { requireWithin } from '../base/errors.ts';
import { slitLight } from './slit.ts';
import { firstOnWitness, type IndexOf, type MonitoredLayer, type Witness } from './witness.ts';

/** Numbers kept of each film in each channel: admittance (re, im), wave number (re, im). */
const FILM = 4;
/** Numbers kept of what lies below the growing film in each channel; see `begin`. */
const BELOW = 6;

/**
 * The light of a witness on which a film grows, as the monitor measures it: reflected or transmitted by
 * the coated face, and by the polished back surface where there is one, averaged over the monochromator's slit.
 *
 * What lies below the growing film is a reflectance r from above, one r' from below and the product u = t t'
 * of its two transmittances, all complex; the film and its interface are added in amplitude form, so that
 * thick absorbing films cannot overflow (Born & Wolf, Principles of Optics, sec. 1.6; the composition of two
 * reflecting layers is Stokes's). With N = n - ik, admittances are N cos θ (s) and N / cos θ (p), and
 * by reciprocity t' = t η_sub / η_0, thus T = |u| Re η_sub / |η_sub|.
 */
export class WitnessLight {
  /** Number of films on the witness, the growing one included. */
  readonly filmCount: number;
  readonly channelCount: number;
  /** The wavelengths that the slit passes, nm. */
  readonly wavelengthNm: Float64Array;
  readonly #transmitted: boolean;
  readonly #weight: Float64Array;
  readonly #incident: Float64Array;
  readonly #substrate: Float64Array;
  /** Of each channel: Re η / |η| of the glass, bulk transmittance, reflectance and transmittance of the back. */
  readonly #plate: Float64Array;
  readonly #film: Float64Array;
  readonly #below: Float64Array;
  readonly #state = new Float64Array(BELOW);
  readonly #slope = new Float64Array(BELOW);

  /**
   * @param films materials on the witness in the order of deposition; the last one is the growing one.
   * @param indexFactor multiplies each film's complex index, one value a film. Default 1.
   */
  constructor(
    witness: Witness,
    films: readonly IndexOf[],
    light: Pick<MonitoredLayer, 'wavelengthNm' | 'bandwidthNm' | 'signal'>,
    indexFactor?: ArrayLike<number>,
  ) {
    const slit = slitLight(light.wavelengthNm, light.bandwidthNm ?? 0);
    const incidenceRad = witness.incidenceRad ?? 0;
    const polarizations = incidenceRad === 0 ? 1 : 2;
    const count = slit.weight.length * polarizations;
    this.filmCount = films.length;
    this.channelCount = count;
    this.wavelengthNm = slit.wavelengthNm;
    this.#transmitted = light.signal === 'T';
    this.#weight = new Float64Array(count);
    this.#incident = new Float64Array(count);
    this.#substrate = new Float64Array(2 * count);
    this.#plate = new Float64Array(4 * count);
    this.#film = new Float64Array(FILM * count * films.length);
    this.#below = new Float64Array(BELOW * count);

    const incident = witness.incident(slit.wavelengthNm);
    const substrate = witness.substrate(slit.wavelengthNm);
    const media = films.map((film) => film(slit.wavelengthNm));
    const out = new Float64Array(FILM);
    for (let w = 0; w < slit.weight.length; w++) {
      const nm = slit.wavelengthNm[w]!;
      const incidentN = incident.n[w]!;
      requireWithin('witness.incident', incident.k[w]!, '', { min: 0, max: 0 });
      const transverse = incidentN * Math.sin(incidenceRad);
      for (let p = 0; p < polarizations; p++) {
        const c = w * polarizations + p;
        this.#weight[c] = slit.weight[w]! / polarizations;
        tilt(incidentN, 0, transverse, nm, p, out);
        this.#incident[c] = out[0]!;
        tilt(substrate.n[w]!, substrate.k[w]!, transverse, nm, p, out);
        this.#substrate[2 * c] = out[0]!;
        this.#substrate[2 * c + 1] = out[1]!;
        this.#setPlate(c, witness, out);
        for (let f = 0; f < media.length; f++) {
          const factor = indexFactor?.[f] ?? 1;
          const medium = media[f]!;
          tilt(medium.n[w]! * factor, medium.k[w]! * factor, transverse, nm, p, out);
          this.#film.set(out, FILM * (f * count + c));
        }
      }
    }
  }

  #setPlate(c: number, witness: Witness, glass: Float64Array): void {
    const [re, im, , waveIm] = glass as unknown as [number, number, number, number];
    const exit = this.#incident[c]!;
    const sum = (re + exit) ** 2 + im ** 2;
    const bare = witness.backSurface === 'bare';
    this.#plate[4 * c] = re / Math.hypot(re, im);
    this.#plate[4 * c + 1] = bare ? Math.exp(2 * waveIm * witness.thicknessMm * 1e6) : 1;
    this.#plate[4 * c + 2] = bare ? ((re - exit) ** 2 + im ** 2) / sum : 0;
    this.#plate[4 * c + 3] = bare ? (4 * re * exit) / sum : 1;
  }

  /**
   * Sets what lies below the growing film.
   * @param thicknessNm of the finished films on the witness, nm, one a film; entries from `filmCount - 1` on are
   *   not read.
   */
  begin(thicknessNm: ArrayLike<number>): void {
    const { channelCount } = this;
    for (let c = 0; c < channelCount; c++) {
      const y0 = this.#incident[c]!;
      const re = this.#substrate[2 * c]!;
      const im = this.#substrate[2 * c + 1]!;
      // Bare glass: r = (η0 - η) / (η0 + η), u = 1 - r², r' = -r.
      const norm = (y0 + re) ** 2 + im ** 2;
      const rRe = (y0 * y0 - re * re - im * im) / norm;
      const rIm = (-2 * y0 * im) / norm;
      const at = BELOW * c;
      const below = this.#below;
      below[at] = rRe;
      below[at + 1] = rIm;
      below[at + 2] = 1 - rRe * rRe + rIm * rIm;
      below[at + 3] = -2 * rRe * rIm;
      below[at + 4] = -rRe;
      below[at + 5] = -rIm;
      for (let f = 0; f < this.filmCount - 1; f++) {
        this.#grow(c, f, thicknessNm[f]!, false);
        below.set(this.#state, at);
      }
    }
  }

  /** The signal (0..1) when the growing film has this thickness on the witness, nm. */
  level(thicknessNm: number): number {
    let sum = 0;
    for (let c = 0; c < this.channelCount; c++) {
      this.#grow(c, this.filmCount - 1, thicknessNm, false);
      sum += this.#weight[c]! * this.#signal(c);
    }
    return sum;
  }

  /** The derivative of `level` with respect to the thickness on the witness, per nm. */
  slope(thicknessNm: number): number {
    let sum = 0;
    for (let c = 0; c < this.channelCount; c++) {
      this.#grow(c, this.filmCount - 1, thicknessNm, true);
      sum += this.#weight[c]! * this.#signalSlope(c);
    }
    return sum;
  }

  /** Thickness of a quarter wave of the growing film at the slit's centre, nm; Infinity where the wave is evanescent. */
  quarterWaveNm(): number {
    const centre = (this.channelCount / this.#polarizations()) >> 1;
    const at = FILM * ((this.filmCount - 1) * this.channelCount + centre * this.#polarizations());
    const wave = this.#film[at + 2]!;
    return wave > 0 ? Math.PI / 2 / wave : Number.POSITIVE_INFINITY;
  }

  /** The largest and smallest real wave number of the growing film over the channels, rad/nm. */
  waveNumber(): { largest: number; smallest: number } {
    let largest = 0;
    let smallest = Number.POSITIVE_INFINITY;
    for (let c = 0; c < this.channelCount; c++) {
      const wave = this.#film[FILM * ((this.filmCount - 1) * this.channelCount + c) + 2]!;
      if (wave > largest) largest = wave;
      if (wave < smallest) smallest = wave;
    }
    return { largest, smallest };
  }

  #polarizations(): number {
    return this.channelCount / this.wavelengthNm.length;
  }

  /** Puts film `f` of the given thickness on what lies below; the result goes to #state, its derivative to #slope. */
  #grow(c: number, f: number, thicknessNm: number, withSlope: boolean): void {
    const film = this.#film;
    const below = this.#below;
    const at = FILM * (f * this.channelCount + c);
    const nRe = film[at]!;
    const nIm = film[at + 1]!;
    const waveRe = film[at + 2]!;
    const waveIm = film[at + 3]!;
    const y0 = this.#incident[c]!;
    // q = r01 of the interface incident medium to film: (η0 - η) / (η0 + η).
    const norm = (y0 + nRe) ** 2 + nIm ** 2;
    const qRe = (y0 * y0 - nRe * nRe - nIm * nIm) / norm;
    const qIm = (-2 * y0 * nIm) / norm;
    // What lies below, now seen from inside the film: g = 1 - q r; rL = (r - q) / g, uL = u (1 - q²) / g²,
    // r'L = r' + u q / g.
    const b = BELOW * c;
    const rRe = below[b]!;
    const rIm = below[b + 1]!;
    const gRe = 1 - (qRe * rRe - qIm * rIm);
    const gIm = -(qRe * rIm + qIm * rRe);
    const gNorm = gRe * gRe + gIm * gIm;
    const hRe = gRe / gNorm;
    const hIm = -gIm / gNorm;
    const lRe = (rRe - qRe) * hRe - (rIm - qIm) * hIm;
    const lIm = (rRe - qRe) * hIm + (rIm - qIm) * hRe;
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
    const backRe = below[b + 4]! + uhRe * qRe - uhIm * qIm;
    const backIm = below[b + 5]! + uhRe * qIm + uhIm * qRe;
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
    const state = this.#state;
    // r = (q + rL e) d
    state[0] = (qRe + leRe) * dRe - (qIm + leIm) * dIm;
    state[1] = (qRe + leRe) * dIm + (qIm + leIm) * dRe;
    // u = uL (1 - q²) e d²
    const usRe = ulRe * sRe - ulIm * sIm;
    const usIm = ulRe * sIm + ulIm * sRe;
    const ueRe = usRe * eRe - usIm * eIm;
    const ueIm = usRe * eIm + usIm * eRe;
    state[2] = ueRe * ddRe - ueIm * ddIm;
    state[3] = ueRe * ddIm + ueIm * ddRe;
    // r' = r'L - uL q e d
    const edRe = eRe * dRe - eIm * dIm;
    const edIm = eRe * dIm + eIm * dRe;
    const uqRe = ulRe * qRe - ulIm * qIm;
    const uqIm = ulRe * qIm + ulIm * qRe;
    state[4] = backRe - (uqRe * edRe - uqIm * edIm);
    state[5] = backIm - (uqRe * edIm + uqIm * edRe);
    if (!withSlope) return;

    // de/d(thickness) = -2 i κ e; with κ = waveRe + i waveIm.
    const xRe = 2 * (waveIm * eRe + waveRe * eIm);
    const xIm = 2 * (waveIm * eIm - waveRe * eRe);
    const xdRe = xRe * ddRe - xIm * ddIm;
    const xdIm = xRe * ddIm + xIm * ddRe;
    const slope = this.#slope;
    // dr = rL (1 - q²) d² de
    const lsRe = lRe * sRe - lIm * sIm;
    const lsIm = lRe * sIm + lIm * sRe;
    slope[0] = lsRe * xdRe - lsIm * xdIm;
    slope[1] = lsRe * xdIm + lsIm * xdRe;
    // du = uL (1 - q²) d² (1 - q rL e) d de, for d(e d²)/de = d² (1 - 2 q rL e d) = d³ (1 - q rL e)
    const vRe = (2 - mRe) * dRe + mIm * dIm;
    const vIm = (2 - mRe) * dIm - mIm * dRe;
    const wRe = xdRe * vRe - xdIm * vIm;
    const wIm = xdRe * vIm + xdIm * vRe;
    slope[2] = usRe * wRe - usIm * wIm;
    slope[3] = usRe * wIm + usIm * wRe;
    // dr' = -uL q d² de
    slope[4] = -(uqRe * xdRe - uqIm * xdIm);
    slope[5] = -(uqRe * xdIm + uqIm * xdRe);
  }

  /** R or T of the plate whose coated face is in #state. */
  #signal(c: number): number {
    const state = this.#state;
    const plate = this.#plate;
    const front = state[0]! ** 2 + state[1]! ** 2;
    const through = Math.hypot(state[2]!, state[3]!) * plate[4 * c]!;
    const bulk = plate[4 * c + 1]!;
    const back = plate[4 * c + 2]!;
    const inside = state[4]! ** 2 + state[5]! ** 2;
    const passes = 1 / (1 - inside * back * bulk * bulk);
    if (this.#transmitted) return through * bulk * plate[4 * c + 3]! * passes;
    return front + through * through * bulk * bulk * back * passes;
  }

  #signalSlope(c: number): number {
    const state = this.#state;
    const slope = this.#slope;
    const plate = this.#plate;
    const size = Math.hypot(state[2]!, state[3]!);
    const through = size * plate[4 * c]!;
    const throughSlope =
      size === 0 ? 0 : ((state[2]! * slope[2]! + state[3]! * slope[3]!) / size) * plate[4 * c]!;
    const bulk = plate[4 * c + 1]!;
    const back = plate[4 * c + 2]!;
    const frontSlope = 2 * (state[0]! * slope[0]! + state[1]! * slope[1]!);
    const inside = state[4]! ** 2 + state[5]! ** 2;
    const insideSlope = 2 * (state[4]! * slope[4]! + state[5]! * slope[5]!);
    const passes = 1 / (1 - inside * back * bulk * bulk);
    const passesSlope = passes * passes * back * bulk * bulk * insideSlope;
    if (this.#transmitted) return bulk * plate[4 * c + 3]! * (throughSlope * passes + through * passesSlope);
    return frontSlope + bulk * bulk * back * through * (2 * throughSlope * passes + through * passesSlope);
  }
}

/** The light for layer `index`, with every film that lies under it on its witness. */
export function lightOfLayer(
  witness: Witness,
  layers: readonly MonitoredLayer[],
  index: number,
  indexFactor?: readonly number[],
): WitnessLight {
  const first = firstOnWitness(layers, index);
  const films = layers.slice(first, index + 1).map(({ material }) => material);
  return new WitnessLight(witness, films, layers[index]!, indexFactor?.slice(first, index + 1));
}

/**
 * Admittance and wave number (rad/nm) of N = n - ik for a wave with this transverse index; the root of the cosine is the one
 * whose wave decays. `out` gets re, im of the admittance and of the wave number, whose imaginary part is not above 0.
 */
function tilt(n: number, k: number, transverse: number, nm: number, p: number, out: Float64Array): void {
  let alongRe = n;
  let alongIm = -k;
  if (transverse !== 0) {
    // (N cos θ)² = N² - transverse²
    const re = n * n - k * k - transverse * transverse;
    const im = -2 * n * k;
    const size = Math.hypot(re, im);
    alongRe = Math.sqrt(Math.max(0, (size + re) / 2));
    alongIm = -Math.sqrt(Math.max(0, (size - re) / 2));
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
