import { S_PER_MIN } from '../base/constants.ts';
import type { Random } from '../math/random.ts';
import { Controller } from './controller.ts';
import { isOptical } from './cut-rule.ts';
import { LightWalk } from './light-walk.ts';
import type { RunSetup } from './run-setup.ts';
import { lightOfLayer } from './witness-light.ts';

/** The start of a layer is read so often before the shutter opens. */
const START_READINGS = 16;

/**
 * One run in the chamber, layer by layer and reading by reading. `VirtualRun` plays the chamber: it knows the truth
 * and tells the controller only what instruments show. Later layers grow on what really lies on the witness.
 *
 * Drive it with `runAll`, or step by step as a rehearsal does: `openShutter` for each layer, `step` until it
 * returns a time of 0 or more, then `closeShutter`.
 */
export class VirtualRun {
  readonly setup: RunSetup;
  readonly controller = new Controller();
  /** True thickness on the lens, nm, one a layer; NaN-free, 0 where not yet made. */
  readonly thicknessNm: Float64Array;
  /** Factor on each layer's index against its record. */
  readonly indexFactor: Float64Array;
  /** How each layer ended: CUT_AS_RULED and its fellows. */
  readonly ending: Uint8Array;
  /** What the light showed last, with its noise. */
  reading = 0;
  /** What the crystal shows in this layer, nm on the lens. */
  crystalNm = 0;
  /** Readings since the shutter of this layer opened. */
  sample = 0;
  readonly #walks: LightWalk[];
  readonly #onWitness: Float64Array;
  #random!: Random;
  #layer = -1;
  #optical = false;
  #lensNm = 0;
  #tooling = 1;
  #crystalScale = 1;
  #gain = 1;
  #witnessSamples = 0;
  #stepNm = 0;
  #rateState = 0;
  #decay = 1;
  #decayNow = 1;
  #untilSpit = Number.POSITIVE_INFINITY;

  constructor(setup: RunSetup) {
    this.setup = setup;
    const count = setup.layers.length;
    this.thicknessNm = new Float64Array(count);
    this.indexFactor = new Float64Array(count).fill(1);
    this.ending = new Uint8Array(count);
    this.#onWitness = new Float64Array(count);
    this.#walks = setup.lights.map((light) => new LightWalk(light));
  }

  /** A whole run with the controller deciding; its results lie in `thicknessNm`, `ending` and `indexFactor`. */
  runAll(random: Random): void {
    this.begin(random);
    for (let layer = 0; layer < this.setup.layers.length; layer++) {
      this.openShutter(layer);
      let closeAfterS = this.decide();
      while (closeAfterS < 0) {
        this.advance();
        closeAfterS = this.decide();
      }
      this.closeShutter(closeAfterS);
    }
  }

  /** Prepares a run that draws all its accidents from `random`. */
  begin(random: Random): void {
    this.#random = random;
    this.#layer = -1;
    this.thicknessNm.fill(0);
    this.ending.fill(0);
    const { layers, witness, noise } = this.setup;
    const indexPercent = noise.indexPercent ?? 0;
    if (indexPercent === 0) return;
    const factors = new Map(layers.map(({ material }) => [material, 1]));
    for (const material of factors.keys()) factors.set(material, 1 + (indexPercent / 100) * random.normal());
    for (const [index, { material }] of layers.entries()) this.indexFactor[index] = factors.get(material)!;
    for (const [index, layer] of layers.entries()) {
      if (!isOptical(layer.rule)) continue;
      const films = Array.from(this.indexFactor);
      this.#walks[index] = new LightWalk(lightOfLayer(witness, layers, index, films));
    }
  }

  /** Opens the shutter of a layer; layers come in order, each after the one before was closed. */
  openShutter(index: number): void {
    const { layers, noise, plans, first } = this.setup;
    const layer = layers[index]!;
    const random = this.#random;
    this.#layer = index;
    this.#lensNm = 0;
    this.crystalNm = 0;
    this.sample = 0;
    this.#optical = isOptical(layer.rule);
    if (first[index] === index) {
      this.#witnessSamples = 0;
      this.#gain = noise.gainPercent ? 1 + (noise.gainPercent / 100) * random.normal() : 1;
    }
    this.#crystalScale = noise.crystalPercent ? 1 + (noise.crystalPercent / 100) * random.normal() : 1;
    const scatter = noise.toolingPercent ? (noise.toolingPercent / 100) * random.normal() : 0;
    const drift = ((noise.toolingDriftPercent ?? 0) / 100) * index;
    this.#tooling = (layer.tooling ?? 1) * Math.max(0.01, 1 + scatter + drift);
    this.#stepNm = layer.rateNmPerS * (1 + noise.rateBiasPercent / 100) * noise.sampleS;
    this.#decayNow = 1;
    this.#decay = noise.rateDecayPercentPerMin
      ? (1 - noise.rateDecayPercentPerMin / 100) ** (noise.sampleS / S_PER_MIN)
      : 1;
    this.#rateState = noise.rateNoisePercent ? random.normal() : 0;
    this.#drawSpit();
    let start = 0;
    if (this.#optical) {
      const walk = this.#walks[index]!;
      walk.begin(this.#onWitness.subarray(first[index]!, index));
      start = walk.advance(0) * this.#gainNow();
      const sigma = noise.signalPercent / 100;
      this.reading = sigma === 0 ? start : start + sigma * random.normal();
      if (sigma !== 0) start += (sigma / Math.sqrt(START_READINGS)) * random.normal();
    }
    this.controller.begin(plans[index]!, start);
  }

  /** Asks the controller: the time after which to close, s, or -1 to go on. A layer of no thickness closes at once. */
  decide(): number {
    if (this.setup.layers[this.#layer]!.thicknessNm === 0) return 0;
    return this.controller.see(this.sample, this.reading, this.crystalNm);
  }

  /** Lets one sample's time pass. */
  advance(): void {
    const { noise } = this.setup;
    const stepNm = this.#growth(1);
    this.sample++;
    this.#witnessSamples++;
    this.#lensNm += stepNm;
    this.crystalNm = this.#lensNm * this.#crystalScale;
    if (!this.#optical) return;
    const signal = this.#walks[this.#layer]!.advance(stepNm * this.#tooling) * this.#gainNow();
    this.reading =
      noise.signalPercent === 0 ? signal : signal + (noise.signalPercent / 100) * this.#random.normal();
  }

  /** Closes the shutter `afterS` from now; it takes its own delay on top. */
  closeShutter(afterS: number): void {
    const { noise, layers } = this.setup;
    const index = this.#layer;
    if (layers[index]!.thicknessNm > 0) {
      let samples = (afterS + noise.shutterDelayS) / noise.sampleS;
      this.#witnessSamples += samples;
      for (; samples > 0; samples--) this.#lensNm += this.#growth(Math.min(1, samples));
    }
    this.thicknessNm[index] = this.#lensNm;
    this.#onWitness[index] = this.#lensNm * this.#tooling;
    this.ending[index] = this.controller.ending;
  }

  /** What arrives on the lens within this share of a sample, nm. */
  #growth(share: number): number {
    const { noise } = this.setup;
    let rate = this.#stepNm;
    if (this.#decay !== 1) {
      rate *= this.#decayNow;
      this.#decayNow *= this.#decay;
    }
    if (noise.rateNoisePercent !== 0) {
      const fresh = this.#random.normal();
      const correlation = noise.rateCorrelationS ?? 0;
      if (correlation === 0) this.#rateState = fresh;
      else {
        const kept = Math.exp(-noise.sampleS / correlation);
        this.#rateState = kept * this.#rateState + Math.sqrt(1 - kept * kept) * fresh;
      }
      const factor = 1 + (noise.rateNoisePercent / 100) * this.#rateState;
      rate = factor > 0 ? rate * factor : 0;
    }
    let grown = rate * share;
    this.#untilSpit -= share;
    while (this.#untilSpit <= 0) {
      grown += noise.spitNm ?? 0;
      const left = this.#untilSpit;
      this.#drawSpit();
      this.#untilSpit += left;
    }
    return grown;
  }

  /** Samples until the next spit: exponential waiting time. */
  #drawSpit(): void {
    const { spitsPerMin = 0, spitNm = 0, sampleS } = this.setup.noise;
    if (spitsPerMin === 0 || spitNm === 0) this.#untilSpit = Number.POSITIVE_INFINITY;
    else {
      const perSample = (spitsPerMin / S_PER_MIN) * sampleS;
      this.#untilSpit = -Math.log(1 - this.#random.uniform()) / perSample;
    }
  }

  #gainNow(): number {
    const { driftPercentPerMin, sampleS } = this.setup.noise;
    return this.#gain * (1 + (driftPercentPerMin / 100 / S_PER_MIN) * sampleS * this.#witnessSamples);
  }
}
