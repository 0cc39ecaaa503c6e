import { S_PER_MIN } from '../base/constants.ts';
import type { Random } from '../math/random.ts';
import { Controller } from './controller.ts';
import { CrystalReader } from './crystal-reader.ts';
import { isOptical } from './cut-rule.ts';
import { LightWalk } from './light-walk.ts';
import { type Mishap, MishapPlayer } from './mishap.ts';
import type { RunSetup } from './run-setup.ts';
import { SourceRate } from './source-rate.ts';
import { lightOfLayer } from './witness-light.ts';

/** The start of a layer is read so often before the shutter opens. */
const START_READINGS = 16;
/** Samples that a whole run works out at once: long enough for tight loops, short against a layer. */
const BATCH = 64;

export interface VirtualRunOptions {
  /** Most samples that one `advance` may take; it decides in which order random numbers are drawn. Default 64. */
  readonly largestBatch?: number;
  /** What goes wrong on top of the noise. */
  readonly mishaps?: readonly Mishap[];
  /** Read the light of every layer, also where its rule does not look at it. */
  readonly watchLight?: boolean;
}

/**
 * One run in the chamber, layer by layer and reading by reading. `VirtualRun` plays the chamber: it knows the truth
 * and tells the controller only what instruments show. Later layers grow on what really lies on the witness.
 *
 * Drive it with `runAll`, or layer by layer as a rehearsal does: `openShutter`, then `advance` until the place it returns
 * is 0 or more (or a hand closes), then `closeShutter`.
 */
export class VirtualRun {
  readonly setup: RunSetup;
  readonly controller: Controller;
  /** True thickness on the lens, nm, one a layer; 0 where not yet made. */
  readonly thicknessNm: Float64Array;
  /** Factor on each layer's index against its record. */
  readonly indexFactor: Float64Array;
  /** How each layer ended: CUT_AS_RULED and its fellows. */
  readonly ending: Uint8Array;
  /** How the crystal came through each layer: CRYSTAL_KEPT and its fellows. */
  readonly crystalState: Uint8Array;
  /** The latest batch of readings: the light with its noise, and the crystal. */
  readonly light: Float64Array;
  readonly crystalNm: Float64Array;
  /** True thickness of the growing layer on the lens after each sample of the batch, nm. */
  readonly grownNm: Float64Array;
  readonly #growth: Float64Array;
  readonly #source: SourceRate;
  readonly #crystal: CrystalReader;
  readonly #onWitness: Float64Array;
  #walks: readonly LightWalk[];
  #random!: Random;
  #streams: Random | undefined;
  #layer = 0;
  #optical = false;
  #lensNm = 0;
  #tooling = 1;
  #gain = 1;
  /** Samples since the witness was put in. */
  #witnessAge = 0;

  readonly #mishaps: MishapPlayer | undefined;

  readonly #batch: number;
  readonly #watchLight: boolean;

  /** @throws InputError where a mishap is out of range. */
  constructor(setup: RunSetup, options: VirtualRunOptions = {}) {
    const { largestBatch = BATCH, mishaps = [], watchLight = false } = options;
    this.setup = setup;
    this.#batch = largestBatch;
    this.#watchLight = watchLight;
    this.#mishaps = mishaps.length === 0 ? undefined : new MishapPlayer(setup, mishaps);
    this.controller = new Controller(largestBatch);
    const count = setup.layers.length;
    this.thicknessNm = new Float64Array(count);
    this.indexFactor = new Float64Array(count).fill(1);
    this.ending = new Uint8Array(count);
    this.crystalState = new Uint8Array(count);
    this.light = new Float64Array(largestBatch);
    this.crystalNm = new Float64Array(largestBatch);
    this.grownNm = new Float64Array(largestBatch);
    this.#growth = new Float64Array(largestBatch);
    this.#source = new SourceRate(setup.noise);
    this.#crystal = new CrystalReader(setup.noise, setup.crystals);
    this.#onWitness = new Float64Array(count);
    this.#walks = setup.lights.map((light) => new LightWalk(light));
  }

  /** A whole run with the controller deciding, see `begin`; its results lie in `thicknessNm`, `ending` and `indexFactor`. */
  runAll(random: Random, apart = false): void {
    this.begin(random, apart);
    for (let layer = 0; layer < this.setup.layers.length; layer++) {
      let place = this.openShutter(layer);
      while (place < 0) place = this.advance(this.#batch);
      this.closeShutter(place, this.controller.closeAfterS);
    }
  }

  /**
   * Prepares a run that draws all its accidents from `random`.
   * @param apart each layer from a stream of its own, so that a cut that comes later leaves the next layers' luck alone.
   */
  begin(random: Random, apart = false): void {
    this.#random = random;
    this.#streams = apart ? random : undefined;
    this.thicknessNm.fill(0);
    this.ending.fill(0);
    this.crystalState.fill(0);
    this.#crystal.begin();
    this.#mishaps?.begin();
    const { layers, witness, noise } = this.setup;
    const sigma = (noise.indexPercent ?? 0) / 100;
    if (sigma === 0) return;
    const factors = new Map(layers.map(({ material }) => [material, 1]));
    for (const material of factors.keys()) factors.set(material, Math.max(0.1, 1 + sigma * random.normal()));
    for (const [index, { material }] of layers.entries()) this.indexFactor[index] = factors.get(material)!;
    const films = Array.from(this.indexFactor);
    this.#walks = layers.map((_, index) => new LightWalk(lightOfLayer(witness, layers, index, films)));
  }

  /**
   * Opens the shutter of a layer; layers come in order, each after the one before was closed.
   * @returns 0 where the controller closes it again at once (a layer thinner than one sample), else -1.
   */
  openShutter(index: number): number {
    const { layers, noise, plans, first } = this.setup;
    const layer = layers[index]!;
    if (this.#streams !== undefined) this.#random = this.#streams.stream(index);
    const random = this.#random;
    this.#layer = index;
    this.#lensNm = 0;
    this.#optical = this.#watchLight || isOptical(layer.rule);
    if (first[index] === index) {
      this.#witnessAge = 0;
      this.#gain = noise.gainPercent ? 1 + (noise.gainPercent / 100) * random.normal() : 1;
    }
    this.#crystal.openShutter(index, layer.thicknessNm, layer.rateNmPerS, random);
    const scatter = noise.toolingPercent ? (noise.toolingPercent / 100) * random.normal() : 0;
    const drift = ((noise.toolingDriftPercent ?? 0) / 100) * index;
    this.#tooling = (layer.tooling ?? 1) * Math.max(0.01, 1 + scatter + drift);
    this.#source.begin(layer.rateNmPerS, random);
    this.#mishaps?.openShutter(index);
    const sigma = noise.signalPercent / 100;
    let start = 0;
    this.grownNm[0] = 0;
    this.crystalNm[0] = 0;
    if (this.#optical) {
      const walk = this.#walks[index]!;
      walk.begin(this.#onWitness.subarray(first[index]!, index));
      const lamp = this.#mishaps?.lampGain ?? 1;
      start = walk.advance(0) * this.#gain * (1 + this.#driftPerSample * this.#witnessAge) * lamp;
      this.light[0] = start;
      if (sigma !== 0) {
        this.light[0] = start + sigma * random.normal();
        start += (sigma / Math.sqrt(START_READINGS)) * random.normal();
      }
    }
    this.controller.begin(plans[index]!, start);
    return layer.thicknessNm === 0 ? 0 : this.controller.take(this, 1);
  }

  /**
   * Lets `count` samples pass and shows them to the controller.
   * @returns the place in the batch at which it closes the shutter, or -1 to go on.
   */
  advance(count: number): number {
    this.#grow(count);
    if (this.#optical) this.#look(count);
    this.#witnessAge += count;
    return this.controller.take(this, count);
  }

  #grow(count: number): void {
    const { grownNm } = this;
    this.#source.take(this.#growth, count);
    this.#mishaps?.grow(this.#growth, count, this.#lensNm);
    let nm = this.#lensNm;
    for (let i = 0; i < count; i++) {
      nm += this.#growth[i]!;
      grownNm[i] = nm;
    }
    this.#lensNm = nm;
    const lostAt = this.#mishaps?.crystalLostAt(grownNm, count) ?? -1;
    this.#crystal.take(grownNm, this.crystalNm, count, lostAt, this.#random);
  }

  #look(count: number): void {
    const { light } = this;
    const random = this.#random;
    this.#walks[this.#layer]!.take(this.#growth, this.#tooling, count, light);
    const drift = this.#driftPerSample;
    const gain = this.#gain;
    if (drift !== 0 || gain !== 1)
      for (let i = 0; i < count; i++) light[i]! *= gain * (1 + drift * (this.#witnessAge + i + 1));
    const sigma = this.setup.noise.signalPercent / 100;
    this.#mishaps?.lamp(light, this.grownNm, count);
    if (sigma !== 0) for (let i = 0; i < count; i++) light[i]! += sigma * random.normal();
    this.#mishaps?.holdLight(light, this.grownNm, count);
  }

  /** Closes the shutter `afterS` after the sample at `place` of the latest batch; the shutter's delay comes on top. */
  closeShutter(place: number, afterS: number): void {
    const { noise, layers } = this.setup;
    const index = this.#layer;
    let nm = 0;
    if (layers[index]!.thicknessNm > 0) {
      nm = this.grownNm[place]!;
      let samples = (afterS + noise.shutterDelayS) / noise.sampleS;
      this.#witnessAge += samples;
      for (; samples > 0; samples--) {
        this.#source.take(this.#growth, 1);
        nm += this.#growth[0]! * Math.min(1, samples);
      }
    }
    this.thicknessNm[index] = nm;
    this.#onWitness[index] = nm * this.#tooling;
    this.ending[index] = this.controller.ending;
    this.crystalState[index] = this.#crystal.closeShutter(nm);
  }

  /** Whether the crystal of this layer has failed; the controller then goes by the set rate and the clock. */
  get crystalFailed(): boolean {
    return this.#crystal.isLost;
  }

  /** What is left of the crystal's budget, Hz, while a layer grows; undefined where nothing is known of crystals. */
  get crystalLeftHz(): number | undefined {
    return this.#crystal.leftHz(this.#lensNm);
  }

  get #driftPerSample(): number {
    const { driftPercentPerMin, sampleS } = this.setup.noise;
    return (driftPercentPerMin / 100 / S_PER_MIN) * sampleS;
  }
}
