import { requireWithin } from '../base/errors.ts';
import { BELOW, FILM, growFilm, lookInto, SEEN } from './film-growth.ts';
import { slitLight } from './slit.ts';
import { tiltedWave } from './tilted-wave.ts';
import { firstOnWitness, type IndexOf, type MonitoredLayer, type Witness } from './witness.ts';
import { PLATE, plateSignal, plateSlope, setPlate } from './witness-plate.ts';

/** Numbers of each channel that `writeWalk` writes. */
export const WALK = 17;

/** How graded films grow: see `MonitoredLayer.profile`; undefined for a film that is the same throughout. */
export interface FilmProfiles {
  readonly profiles: readonly (Float64Array | undefined)[];
  /** Planned thickness of the growing film on the witness, nm. */
  readonly growingNm: number;
}

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
  /** Wave number of the growing film at the band's centre, and its size with what absorbs or is evanescent, rad/nm. */
  readonly #centreWave: number;
  readonly #centreSize: number;
  readonly #weight: Float64Array;
  readonly #incident: Float64Array;
  readonly #substrate: Float64Array;
  /** Of each channel, see `setPlate`. */
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
  readonly #seen = new Float64Array(SEEN);
  readonly #state = new Float64Array(BELOW);
  readonly #slope = new Float64Array(BELOW);

  /**
   * @param films materials on the witness in the order of deposition, at least one; the last one is the growing one.
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
    this.#plate = new Float64Array(PLATE * count);
    const profiles = films.map((_, f) => graded?.profiles[f] ?? SAME_THROUGHOUT);
    this.#firstPart = new Int32Array(films.length + 1);
    profiles.forEach((profile, f) => {
      this.#firstPart[f + 1] = this.#firstPart[f]! + profile.length;
    });
    this.partCount = profiles.at(-1)!.length;
    this.partNm = (graded?.growingNm ?? 0) / this.partCount;
    this.#film = new Float64Array(FILM * count * this.#firstPart[films.length]!);
    this.#below = new Float64Array(BELOW * count * this.partCount);

    const incident = witness.incident(slit.wavelengthNm);
    const substrate = witness.substrate(slit.wavelengthNm);
    const media = films.map((film) => film(slit.wavelengthNm));
    const out = new Float64Array(FILM);
    const centre = Float64Array.of(light.wavelengthNm);
    const growing = films.at(-1)!(centre);
    const changed = indexFactor?.[films.length - 1] ?? 1;
    const outside = witness.incident(centre).n[0]! * Math.sin(incidenceRad);
    tiltedWave(growing.n[0]! * changed, growing.k[0]! * changed, outside, light.wavelengthNm, 0, out);
    this.#centreWave = out[2]!;
    this.#centreSize = Math.hypot(out[2]!, out[3]!);
    for (let w = 0; w < slit.weight.length; w++) {
      const nm = slit.wavelengthNm[w]!;
      const incidentN = incident.n[w]!;
      requireWithin('witness.incident', incident.k[w]!, '', { min: 0, max: 0 });
      const transverse = incidentN * Math.sin(incidenceRad);
      for (let p = 0; p < polarizations; p++) {
        const c = w * polarizations + p;
        this.#weight[c] = slit.weight[w]! / polarizations;
        tiltedWave(incidentN, 0, transverse, nm, p, out);
        this.#incident[c] = out[0]!;
        tiltedWave(substrate.n[w]!, substrate.k[w]!, transverse, nm, p, out);
        this.#substrate[2 * c] = out[0]!;
        this.#substrate[2 * c + 1] = out[1]!;
        setPlate(this.#plate, PLATE * c, witness, this.#incident[c]!, out);
        for (let f = 0; f < media.length; f++) {
          const medium = media[f]!;
          profiles[f]!.forEach((part, place) => {
            const factor = part * (indexFactor?.[f] ?? 1);
            tiltedWave(medium.n[w]! * factor, medium.k[w]! * factor, transverse, nm, p, out);
            this.#film.set(out, FILM * ((this.#firstPart[f]! + place) * count + c));
          });
        }
      }
    }
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
          this.#grow(c, part, at, thicknessNm[f]! / (to - from));
          below.set(this.#state, at);
        }
      }
      for (let part = 0; part < this.partCount - 1; part++) {
        this.#growTop(c, part, this.partNm);
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
  #growTop(c: number, part: number, partNm: number, slope?: Float64Array): void {
    const below = BELOW * (part * this.channelCount + c);
    this.#grow(c, this.#firstPart[this.filmCount - 1]! + part, below, partNm, slope);
  }

  /** The signal (0..1) when the growing film has this thickness on the witness, nm. */
  level(thicknessNm: number): number {
    const part = this.#partAt(thicknessNm);
    const rest = thicknessNm - part * this.partNm;
    let sum = 0;
    for (let c = 0; c < this.channelCount; c++) {
      this.#growTop(c, part, rest);
      sum += this.#weight[c]! * plateSignal(this.#plate, PLATE * c, this.#state, this.transmitted);
    }
    return sum;
  }

  /** The derivative of `level` with respect to the thickness on the witness, per nm. */
  slope(thicknessNm: number): number {
    const part = this.#partAt(thicknessNm);
    const rest = thicknessNm - part * this.partNm;
    let sum = 0;
    for (let c = 0; c < this.channelCount; c++) {
      this.#growTop(c, part, rest, this.#slope);
      sum +=
        this.#weight[c]! * plateSlope(this.#plate, PLATE * c, this.#state, this.#slope, this.transmitted);
    }
    return sum;
  }

  /**
   * The second derivative of `level`, per nm²: the central difference over a 500th of a quarter wave, or of the depth in which
   * the light dies away where that is the lesser.
   */
  bend(thicknessNm: number): number {
    const half = (1e-3 * Math.PI) / 2 / this.#centreSize;
    return (this.slope(thicknessNm + half) - this.slope(thicknessNm - half)) / (2 * half);
  }

  /** Thickness of a quarter wave of the growing film at the band's centre, nm; Infinity where the wave is evanescent. */
  quarterWaveNm(): number {
    return Math.PI / 2 / this.#centreWave;
  }

  /** The largest real wave number of the growing film over channels and parts, rad/nm. */
  largestWaveNumber(): number {
    let largest = 0;
    const first = FILM * this.channelCount * this.#firstPart[this.filmCount - 1]!;
    for (let at = first; at < this.#film.length; at += FILM) largest = Math.max(largest, this.#film[at + 2]!);
    return largest;
  }

  /** What lies below, at `b` in #below, seen from inside part `f`, into #seen. */
  #look(c: number, f: number, b: number): void {
    const at = FILM * (f * this.channelCount + c);
    lookInto(this.#film, at, this.#incident[c]!, this.#below, b, this.#seen);
  }

  /** Puts part `f` on what lies below at `b`, into #state, and its derivative into `slope` where given. */
  #grow(c: number, f: number, b: number, thicknessNm: number, slope?: Float64Array): void {
    this.#look(c, f, b);
    const at = FILM * (f * this.channelCount + c);
    growFilm(this.#film, at, this.#seen, thicknessNm, this.#state, slope);
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
      const plate = PLATE * c;
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
