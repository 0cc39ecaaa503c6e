import { requireWithin } from '../base/errors.ts';
import { slitLight } from './slit.ts';
import { firstOnWitness, type IndexOf, type MonitoredLayer, type Witness } from './witness.ts';

/** Numbers kept of each film in each channel: admittance (re, im), wave number (re, im). */
const FILM = 4;
/** Numbers kept of what lies below the growing film in each channel; see `begin`. */
const BELOW = 6;
/** Numbers of each channel that `writeWalk` writes. */
export const WALK = 17;

/** How graded films grow: see `MonitoredLayer.profile`; undefined for a film that is the same throughout. */
export interface FilmProfiles {
  readonly profiles: readonly (Float64Array | undefined)[];
  /** Planned thickness of the growing film on the witness, nm. */
  readonly growingNm: number;
}

type Ten = [number, number, number, number, number, number, number, number, number, number];

const SAME_THROUGHOUT = Float64Array.of(1);

/**
 * The light of a witness on which a film grows, as the monitor measures it: reflected or transmitted by
 * the coated face, and by the polished back surface where there is one, averaged over the monitor's band.
 *
 * What lies below the growing film is a reflectance r from above, one r' from below and the product u = t t'
 * of its two transmittances, all complex; the film and its interface are added in amplitude form, so that
 * thick absorbing films cannot overflow (Born & Wolf, Principles of Optics, sec. 1.6; the composition of two
 * reflecting layers is Stokes's). With N = n - ik, admittances are N cos θ (s) and N / cos θ (p), and
 * by reciprocity t' = t η_sub / η_0, thus T = |u| Re η_sub / |η_sub|.
 *
 * A graded film is a pile of parts, each of its own index. Of the growing one the finished parts are piled up by
 * `begin`, so that a thickness asked for costs a single part.
 */
export class WitnessLight {
  /** Number of films on the witness, the growing one included. */
  readonly filmCount: number;
  readonly channelCount: number;
  /** The wavelengths that the slit passes, nm. */
  readonly wavelengthNm: Float64Array;
  /** Whether the transmitted light is measured; the reflected one otherwise. */
  readonly transmitted: boolean;
  /** Wave number of the growing film at the band's centre, rad/nm. */
  readonly #centreWave: number;
  readonly #weight: Float64Array;
  readonly #incident: Float64Array;
  readonly #substrate: Float64Array;
  /** Of each channel: Re η / |η| of the glass, bulk transmittance, reflectance and transmittance of the back. */
  readonly #plate: Float64Array;
  /** Number of parts of the growing film: 1 where it is the same throughout. */
  readonly partCount: number;
  /** Thickness of a part of the growing film on the witness, nm; the last one goes on without end. */
  readonly partNm: number;
  /** Place of each film's first part among all parts; one more at the end, their number. */
  readonly #firstPart: Int32Array;
  /** [part][channel][FILM] */
  readonly #film: Float64Array;
  /** [part of the growing film][channel][BELOW] */
  readonly #below: Float64Array;
  readonly #seen = new Float64Array(10);
  readonly #state = new Float64Array(BELOW);
  readonly #slope = new Float64Array(BELOW);

  /**
   * @param films materials on the witness in the order of deposition; the last one is the growing one.
   * @param indexFactor multiplies each film's complex index, one value a film. Default 1.
   * @param graded the profiles of the films, where some are graded.
   */
  constructor(
    witness: Witness,
    films: readonly IndexOf[],
    light: Pick<MonitoredLayer, 'wavelengthNm' | 'bandwidthNm' | 'bandShape' | 'signal'>,
    indexFactor?: ArrayLike<number>,
    graded?: FilmProfiles,
  ) {
    const slit = slitLight(light.wavelengthNm, light.bandwidthNm ?? 0, light.bandShape);
    const incidenceRad = witness.incidenceRad ?? 0;
    const polarizations = incidenceRad === 0 ? 1 : 2;
    const count = slit.weight.length * polarizations;
    this.filmCount = films.length;
    this.channelCount = count;
    this.wavelengthNm = slit.wavelengthNm;
    this.transmitted = light.signal === 'T';
    this.#weight = new Float64Array(count);
    this.#incident = new Float64Array(count);
    this.#substrate = new Float64Array(2 * count);
    this.#plate = new Float64Array(4 * count);
    const profiles = films.map((_, f) => graded?.profiles[f] ?? SAME_THROUGHOUT);
    this.#firstPart = new Int32Array(films.length + 1);
    profiles.forEach((profile, f) => {
      this.#firstPart[f + 1] = this.#firstPart[f]! + profile.length;
    });
    this.partCount = profiles.at(-1)?.length ?? 1;
    this.partNm = (graded?.growingNm ?? 0) / this.partCount;
    this.#film = new Float64Array(FILM * count * this.#firstPart[films.length]!);
    this.#below = new Float64Array(BELOW * count * this.partCount);

    const incident = witness.incident(slit.wavelengthNm);
    const substrate = witness.substrate(slit.wavelengthNm);
    const media = films.map((film) => film(slit.wavelengthNm));
    const out = new Float64Array(FILM);
    const centre = Float64Array.of(light.wavelengthNm);
    const growing = films.at(-1)?.(centre);
    const grown = (growing?.n[0] ?? 1) * (indexFactor?.[films.length - 1] ?? 1);
    const outside = witness.incident(centre).n[0]! * Math.sin(incidenceRad);
    tilt(grown, growing?.k[0] ?? 0, outside, light.wavelengthNm, 0, out);
    this.#centreWave = out[2]!;
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
          const medium = media[f]!;
          profiles[f]!.forEach((part, place) => {
            const factor = part * (indexFactor?.[f] ?? 1);
            tilt(medium.n[w]! * factor, medium.k[w]! * factor, transverse, nm, p, out);
            this.#film.set(out, FILM * ((this.#firstPart[f]! + place) * count + c));
          });
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
        const [from, to] = [this.#firstPart[f]!, this.#firstPart[f + 1]!];
        for (let part = from; part < to; part++) {
          this.#grow(c, part, at, thicknessNm[f]! / (to - from), false);
          below.set(this.#state, at);
        }
      }
      for (let part = 0; part < this.partCount - 1; part++) {
        this.#growTop(c, part, this.partNm, false);
        below.set(this.#state, BELOW * ((part + 1) * channelCount + c));
      }
    }
  }

  /** The part of the growing film in which a thickness on the witness (nm) ends. */
  #partAt(thicknessNm: number): number {
    if (this.partCount === 1 || thicknessNm <= 0) return 0;
    return Math.min(this.partCount - 1, Math.floor(thicknessNm / this.partNm));
  }

  /** Grows a part of the growing film by itself, on its finished parts. */
  #growTop(c: number, part: number, partNm: number, withSlope: boolean): void {
    const below = BELOW * (part * this.channelCount + c);
    this.#grow(c, this.#firstPart[this.filmCount - 1]! + part, below, partNm, withSlope);
  }

  /** The signal (0..1) when the growing film has this thickness on the witness, nm. */
  level(thicknessNm: number): number {
    const part = this.#partAt(thicknessNm);
    const rest = thicknessNm - part * this.partNm;
    let sum = 0;
    for (let c = 0; c < this.channelCount; c++) {
      this.#growTop(c, part, rest, false);
      sum += this.#weight[c]! * this.#signal(c);
    }
    return sum;
  }

  /** The derivative of `level` with respect to the thickness on the witness, per nm. */
  slope(thicknessNm: number): number {
    const part = this.#partAt(thicknessNm);
    const rest = thicknessNm - part * this.partNm;
    let sum = 0;
    for (let c = 0; c < this.channelCount; c++) {
      this.#growTop(c, part, rest, true);
      sum += this.#weight[c]! * this.#signalSlope(c);
    }
    return sum;
  }

  /** Thickness of a quarter wave of the growing film at the band's centre, nm; Infinity where the wave is evanescent. */
  quarterWaveNm(): number {
    return this.#centreWave > 0 ? Math.PI / 2 / this.#centreWave : Number.POSITIVE_INFINITY;
  }

  /** The largest and smallest real wave number of the growing film over channels and parts, rad/nm. */
  waveNumber(): { largest: number; smallest: number } {
    let largest = 0;
    let smallest = Number.POSITIVE_INFINITY;
    const first = FILM * this.channelCount * this.#firstPart[this.filmCount - 1]!;
    for (let at = first; at < this.#film.length; at += FILM) {
      const wave = this.#film[at + 2]!;
      if (wave > largest) largest = wave;
      if (wave < smallest) smallest = wave;
    }
    return { largest, smallest };
  }

  /**
   * What lies below (at `b` in #below), seen from inside part `f`, into #seen: q = r01 of the interface from the incident medium to
   * the film, then with g = 1 - q r: rL = (r - q) / g, v = uL (1 - q²), w = uL q, r'L = r' + u q / g, where
   * uL = u (1 - q²) / g².
   */
  #look(c: number, f: number, b: number): void {
    const at = FILM * (f * this.channelCount + c);
    const nRe = this.#film[at]!;
    const nIm = this.#film[at + 1]!;
    const y0 = this.#incident[c]!;
    const norm = (y0 + nRe) ** 2 + nIm ** 2;
    const qRe = (y0 * y0 - nRe * nRe - nIm * nIm) / norm;
    const qIm = (-2 * y0 * nIm) / norm;
    const below = this.#below;
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
    const seen = this.#seen;
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

  /** Puts part `f` of the given thickness on what lies below at `b`; the result goes to #state, its derivative to #slope. */
  #grow(c: number, f: number, b: number, thicknessNm: number, withSlope: boolean): void {
    this.#look(c, f, b);
    const [qRe, qIm, lRe, lIm, vRe, vIm, wRe, wIm, backRe, backIm] = this.#seen as unknown as Ten;
    const at = FILM * (f * this.channelCount + c);
    const waveRe = this.#film[at + 2]!;
    const waveIm = this.#film[at + 3]!;
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
    if (!withSlope) return;

    // de/d(thickness) = -2 i κ e, with κ = waveRe + i waveIm; x = d² de.
    const deRe = 2 * (waveIm * eRe + waveRe * eIm);
    const deIm = 2 * (waveIm * eIm - waveRe * eRe);
    const xRe = deRe * ddRe - deIm * ddIm;
    const xIm = deRe * ddIm + deIm * ddRe;
    const slope = this.#slope;
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

  /**
   * Writes what a walk in small steps through one part of the growing film needs of each channel, after `begin`; for the
   * layout see `LightWalk`. `out` has `WALK` numbers a channel.
   */
  writeWalk(part: number, out: Float64Array): void {
    const f = this.#firstPart[this.filmCount - 1]! + part;
    for (let c = 0; c < this.channelCount; c++) {
      this.#look(c, f, BELOW * (part * this.channelCount + c));
      const seen = this.#seen;
      const film = FILM * (f * this.channelCount + c);
      const plate = 4 * c;
      const bulk = this.#plate[plate + 1]!;
      const o = WALK * c;
      out[o] = 1;
      out[o + 1] = 0;
      out[o + 2] = 1;
      out[o + 3] = -2 * this.#film[film + 2]!;
      out[o + 4] = 2 * this.#film[film + 3]!;
      out[o + 5] = seen[0]!;
      out[o + 6] = seen[1]!;
      out[o + 7] = seen[2]!;
      out[o + 8] = seen[3]!;
      out[o + 9] = Math.hypot(seen[4]!, seen[5]!) * this.#plate[plate]!;
      out[o + 10] = seen[6]!;
      out[o + 11] = seen[7]!;
      out[o + 12] = seen[8]!;
      out[o + 13] = seen[9]!;
      out[o + 14] = bulk * bulk * this.#plate[plate + 2]!;
      out[o + 15] = bulk * this.#plate[plate + 3]!;
      out[o + 16] = this.#weight[c]!;
    }
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
    if (this.transmitted) return through * bulk * plate[4 * c + 3]! * passes;
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
    if (this.transmitted) return bulk * plate[4 * c + 3]! * (throughSlope * passes + through * passesSlope);
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
  const onWitness = layers.slice(first, index + 1);
  const films = onWitness.map(({ material }) => material);
  const { thicknessNm, tooling = 1 } = layers[index]!;
  const profiles = onWitness.map(({ profile }) => profile);
  const graded = { profiles, growingNm: thicknessNm * tooling };
  return new WitnessLight(witness, films, layers[index]!, indexFactor?.slice(first, index + 1), graded);
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
