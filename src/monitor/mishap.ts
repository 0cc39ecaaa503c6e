import { S_PER_MIN } from '../base/constants.ts';
import { requireWithin } from '../base/errors.ts';
import type { RunSetup } from './run-setup.ts';

/**
 * Something scripted that goes wrong in one layer, for training. It begins when the layer has truly grown to `atPercent`
 * of its plan.
 * - `spit`: the source throws `thicknessNm` at once.
 * - `lamp-drift`: the lamp gains or loses `percentPerMin` from there to the layer's end, and keeps what it has lost.
 * - `crystal-failure`: the crystal is lost; see `CrystalReader` for how display and controller go on.
 * - `missed-turning-point`: the light's reading sticks from there until `untilPercent`, over a turn as a rule.
 */
export type Mishap =
  | {
      readonly kind: 'spit';
      readonly layer: number;
      readonly atPercent: number;
      readonly thicknessNm: number;
    }
  | {
      readonly kind: 'lamp-drift';
      readonly layer: number;
      readonly atPercent: number;
      readonly percentPerMin: number;
    }
  | { readonly kind: 'crystal-failure'; readonly layer: number; readonly atPercent: number }
  | {
      readonly kind: 'missed-turning-point';
      readonly layer: number;
      readonly atPercent: number;
      readonly untilPercent: number;
    };

/** @throws InputError where a mishap names no layer of the run or is out of range. */
export function checkMishaps(mishaps: readonly Mishap[], layerCount: number): void {
  for (const [index, mishap] of mishaps.entries()) {
    const at = `mishaps[${index}]`;
    requireWithin(`${at}.layer`, mishap.layer, '', { min: 0, max: layerCount - 1 });
    requireWithin(`${at}.atPercent`, mishap.atPercent, '%', { min: 0, max: 200 });
    if (mishap.kind === 'spit')
      requireWithin(`${at}.thicknessNm`, mishap.thicknessNm, 'nm', { min: 0, max: 1000 });
    if (mishap.kind === 'lamp-drift')
      requireWithin(`${at}.percentPerMin`, mishap.percentPerMin, '%/min', { min: -100, max: 100 });
    if (mishap.kind === 'missed-turning-point')
      requireWithin(`${at}.untilPercent`, mishap.untilPercent, '%', { min: mishap.atPercent, max: 300 });
  }
}

/** Plays the mishaps of a run into its growth and its readings. */
export class MishapPlayer {
  readonly #setup: RunSetup;
  readonly #all: readonly Mishap[];
  #now!: readonly Mishap[];
  #layer = 0;
  #held: number | undefined;
  /** What the lamp's drift has made of the signal so far. */
  lampGain = 1;

  constructor(setup: RunSetup, mishaps: readonly Mishap[]) {
    checkMishaps(mishaps, setup.layers.length);
    this.#setup = setup;
    this.#all = mishaps;
  }

  begin(): void {
    this.lampGain = 1;
  }

  openShutter(layer: number): void {
    this.#layer = layer;
    this.#held = undefined;
    this.#now = this.#all.filter((mishap) => mishap.layer === layer);
  }

  /** Adds spits to the growth (nm a sample) of the next samples; `fromNm` has grown before them. */
  grow(growthNm: Float64Array, count: number, fromNm: number): void {
    for (const mishap of this.#now) {
      if (mishap.kind !== 'spit') continue;
      let nm = fromNm;
      for (let i = 0; i < count; i++) {
        nm += growthNm[i]!;
        if (nm < this.#startNm(mishap)) continue;
        growthNm[i]! += mishap.thicknessNm;
        this.#now = this.#now.filter((one) => one !== mishap);
        break;
      }
    }
  }

  /** The place among the next samples at which the crystal is lost, or -1; told once. */
  crystalLostAt(grownNm: Float64Array, count: number): number {
    const failure = this.#now.find(({ kind }) => kind === 'crystal-failure');
    if (failure === undefined) return -1;
    const startNm = this.#startNm(failure);
    for (let i = 0; i < count; i++) {
      if (grownNm[i]! < startNm) continue;
      this.#now = this.#now.filter((one) => one !== failure);
      return i;
    }
    return -1;
  }

  /** Applies the lamp's drift to the light. */
  lamp(light: Float64Array, grownNm: Float64Array, count: number): void {
    const drifts = this.#now.filter((mishap) => mishap.kind === 'lamp-drift');
    for (let i = 0; i < count; i++) {
      for (const drift of drifts)
        if (grownNm[i]! >= this.#startNm(drift))
          this.lampGain *= 1 + (drift.percentPerMin / 100 / S_PER_MIN) * this.#setup.noise.sampleS;
      light[i]! *= this.lampGain;
    }
  }

  /** Holds the reading where it sticks. */
  holdLight(light: Float64Array, grownNm: Float64Array, count: number): void {
    const sticking = this.#now.filter((mishap) => mishap.kind === 'missed-turning-point');
    for (let i = 0; i < count; i++) {
      const nm = grownNm[i]!;
      if (sticking.some((mishap) => nm >= this.#startNm(mishap) && nm < this.#nmAt(mishap.untilPercent)))
        light[i] = this.#held ??= light[i]!;
      else this.#held = undefined;
    }
  }

  #startNm({ atPercent }: Mishap): number {
    return this.#nmAt(atPercent);
  }

  #nmAt(percent: number): number {
    return (percent / 100) * this.#setup.layers[this.#layer]!.thicknessNm;
  }
}
