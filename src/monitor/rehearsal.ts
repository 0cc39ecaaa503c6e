import { assert } from '../base/assert.ts';
import { requireWithin } from '../base/errors.ts';
import { Random } from '../math/random.ts';
import { CUT_BY_BACKUP } from './controller.ts';
import type { Mishap } from './mishap.ts';
import { type RehearsalScore, scoreOf } from './rehearsal-score.ts';
import type { RunSetup } from './run-setup.ts';
import { VirtualRun } from './virtual-run.ts';

/** Where a rehearsal stands: before a layer's shutter opens, while it is open, or at the end. */
export type RehearsalPhase = 'ready' | 'growing' | 'done';

/** Who closes the shutter. The controller's own decision is told in both cases. */
export type Cutter = 'hand' | 'controller';

/** The instruments of the layer that grows or has just grown. */
export interface RehearsalReadings {
  readonly layer: number;
  /** Since the shutter opened, s. */
  readonly timeS: readonly number[];
  /** As measured, 0..1. */
  readonly light: readonly number[];
  /** What the crystal reads, nm on the lens; by set rate and clock once it has failed. */
  readonly crystalNm: readonly number[];
  readonly crystalFailed: boolean;
  /** What is left of the crystal's budget, Hz, below 0 beyond it; undefined where nothing is known of crystals. */
  readonly crystalLeftHz: number | undefined;
  /** Turning points that the controller has found, and the level (0..1) at which it would close, by an optical rule. */
  readonly turnsSeen: number;
  readonly targetLevel: number;
}

/** How one layer came out; told after its shutter has closed. */
export interface RehearsedLayer {
  readonly layer: number;
  readonly plannedNm: number;
  readonly trueNm: number;
  readonly errorNm: number;
  readonly closedBy: Cutter | 'limit';
  readonly openS: number;
}

/** By hand a layer may grow to this many times its planned time before the machine's own limit closes. */
const LIMIT_TIMES = 3;

/**
 * A run that a screen plays: simulated time goes on by `advance`, as much of it a frame as the speed asks for. The
 * technician or the controller closes each shutter; nothing of the truth is told before that.
 *
 * ready --openShutter--> growing --closeShutter, controller or limit--> ready ... --> done
 */
export class Rehearsal {
  readonly setup: RunSetup;
  readonly seed: number;
  readonly mishaps: readonly Mishap[];
  readonly cutter: Cutter;
  readonly #run: VirtualRun;
  readonly #done: RehearsedLayer[] = [];
  #phase: RehearsalPhase = 'ready';
  #layer = 0;
  #owedS = 0;
  #time: number[] = [];
  #light: number[] = [];
  #crystal: number[] = [];
  #advice: number | undefined;

  /**
   * @param seed whole number from 0; the same seed, mishaps and cuts give the same run.
   * @throws InputError where a mishap is out of range.
   */
  constructor(setup: RunSetup, seed: number, mishaps: readonly Mishap[] = [], cutter: Cutter = 'hand') {
    requireWithin('layers', setup.layers.length, 'layers', { min: 1 });
    this.setup = setup;
    this.seed = seed;
    this.mishaps = mishaps;
    this.cutter = cutter;
    this.#run = new VirtualRun(setup, { largestBatch: 1, mishaps, watchLight: true });
    this.#run.begin(new Random(seed), true);
  }

  get phase(): RehearsalPhase {
    return this.#phase;
  }

  /** The layer that grows, or comes next; the layer count once all are done. */
  get layer(): number {
    return this.#layer;
  }

  /** What the instruments have shown in the present layer (after its end: until the next shutter opens). */
  get readings(): RehearsalReadings {
    return {
      layer: this.#phase === 'growing' ? this.#layer : Math.max(0, this.#layer - 1),
      timeS: this.#time,
      light: this.#light,
      crystalNm: this.#crystal,
      crystalFailed: this.#run.crystalFailed,
      crystalLeftHz: this.#run.crystalLeftHz,
      turnsSeen: this.#run.controller.turnsSeen,
      targetLevel: this.#run.controller.targetLevel,
    };
  }

  /** When the controller would have closed this layer, s since the shutter opened; undefined while it would not. */
  get controllerCutS(): number | undefined {
    return this.#advice;
  }

  /** The finished layers, with the truth about them. */
  get finished(): readonly RehearsedLayer[] {
    return this.#done;
  }

  /** Opens the next layer's shutter. */
  openShutter(): void {
    assert(this.#phase === 'ready', 'a shutter opens only between layers');
    this.#phase = 'growing';
    this.#time = [];
    this.#light = [];
    this.#crystal = [];
    this.#advice = undefined;
    this.#owedS = 0;
    const place = this.#run.openShutter(this.#layer);
    this.#record(0);
    const empty = this.setup.layers[this.#layer]!.thicknessNm === 0;
    if (empty) this.#close('controller', 0);
    else if (place >= 0) this.#advise(0);
  }

  /**
   * Lets simulated time pass, s from 0; whole samples are played, the rest is kept for the next call. Ends early where
   * the shutter closes.
   * @returns how many samples were played.
   */
  advance(seconds: number): number {
    requireWithin('seconds', seconds, 's', { min: 0, max: 86_400 });
    if (this.#phase !== 'growing') return 0;
    const { sampleS } = this.setup.noise;
    const { nominalS } = this.setup.plans[this.#layer]!;
    this.#owedS += seconds;
    let played = 0;
    while (this.#phase === 'growing' && this.#owedS >= sampleS) {
      this.#owedS -= sampleS;
      played++;
      const sample = this.#time.length;
      const place = this.#run.advance(1);
      this.#record(sample * sampleS);
      if (place >= 0) this.#advise(sample * sampleS);
      if (this.#phase === 'growing' && sample * sampleS >= LIMIT_TIMES * nominalS + sampleS)
        this.#close('limit', 0);
    }
    return played;
  }

  /** Closes the shutter by hand, now. */
  closeShutter(): void {
    assert(this.#phase === 'growing', 'only an open shutter closes');
    this.#close('hand', this.#owedS);
  }

  /** Points so far against those of the controller alone in the same run; higher is better, 1000 the most. */
  score(): RehearsalScore {
    return scoreOf(this.setup, this.#done, this.seed, this.mishaps);
  }

  #advise(timeS: number): void {
    if (this.#advice !== undefined) return;
    this.#advice = timeS + this.#run.controller.closeAfterS;
    if (this.cutter === 'controller') {
      const byLimit = this.#run.controller.ending === CUT_BY_BACKUP;
      this.#close(byLimit ? 'limit' : 'controller', this.#run.controller.closeAfterS);
    }
  }

  #record(timeS: number): void {
    this.#time.push(timeS);
    this.#crystal.push(this.#run.crystalNm[0]!);
    this.#light.push(this.#run.light[0]!);
  }

  #close(closedBy: RehearsedLayer['closedBy'], afterS: number): void {
    const layer = this.#layer;
    this.#run.closeShutter(0, afterS);
    const plannedNm = this.setup.layers[layer]!.thicknessNm;
    const trueNm = this.#run.thicknessNm[layer]!;
    this.#done.push({
      layer,
      plannedNm,
      trueNm,
      errorNm: trueNm - plannedNm,
      closedBy,
      openS: this.#time.at(-1)! + afterS + this.setup.noise.shutterDelayS,
    });
    this.#layer++;
    this.#phase = this.#layer === this.setup.layers.length ? 'done' : 'ready';
  }
}
