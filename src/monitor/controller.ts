import { type CutPlan, LARGEST_WINDOW } from './cut-plan.ts';
import { SlidingLine } from './sliding-line.ts';

/** How a layer ended: as its rule said, by a turn before its level came, or by crystal or clock standing by. */
export const CUT_AS_RULED = 0;
export const CUT_BY_WRONG_TURN = 1;
export const CUT_BY_BACKUP = 2;

/** An expected turn or level is looked for only after this share of the way (by crystal) from the last event to it. */
const GATE = 0.5;

/** What the instruments show, sample after sample. `light` is not read where the rule does not look at it. */
export interface Readings {
  readonly light: Float64Array;
  readonly crystalNm: Float64Array;
}

/**
 * Decides when to close the shutter, from what instruments can see: readings of the light, of the crystal and of the
 * clock. It never learns the true thickness. One controller serves one layer after the other, and takes
 * readings in batches of any size.
 */
export class Controller {
  readonly #line = new SlidingLine(LARGEST_WINDOW);
  readonly #slope: Float64Array;
  readonly #mean: Float64Array;
  #plan!: CutPlan;
  #sample = 0;
  #sign = 1;
  #gateNm = 0;
  /** The latest turn, or the start: as seen and as planned. */
  #latest!: { readonly level: number; readonly planned: number };
  /** How the layer ended, one of the three words above. */
  ending = CUT_AS_RULED;
  /** How many turns have been found in this layer. */
  turnsSeen = 0;
  /** The smoothed level that closes the shutter, as far as it is known now. */
  targetLevel = 0;
  /** Once `take` has said at which reading: the time after that reading at which to close, s. */
  closeAfterS = 0;

  /** @param largestBatch most readings given at once. */
  constructor(largestBatch: number) {
    this.#slope = new Float64Array(largestBatch);
    this.#mean = new Float64Array(largestBatch);
  }

  /** @param startLight the light before the shutter opens, as well as it is known (a mean of readings). */
  begin(plan: CutPlan, startLight: number): void {
    this.#plan = plan;
    this.#line.begin(plan.window);
    this.#sample = 0;
    this.#sign = plan.firstSign;
    this.#gateNm = GATE * (plan.turnNm[0] ?? plan.thicknessNm);
    this.#latest = { level: startLight, planned: plan.startLevel };
    this.ending = CUT_AS_RULED;
    this.turnsSeen = 0;
    this.closeAfterS = 0;
    this.targetLevel =
      plan.rule === 'swing' && plan.startLevel > 0
        ? (plan.cutLevel * startLight) / plan.startLevel
        : plan.cutLevel;
  }

  /**
   * Takes the next `count` readings, the very first being the one when the shutter opens.
   * @returns the place in this batch of the reading after which the shutter closes, or -1 to go on.
   */
  take(readings: Readings, count: number): number {
    const from = this.#sample;
    this.#sample += count;
    switch (this.#plan.rule) {
      case 'time':
        return this.#byTime(from, count);
      case 'crystal':
        return this.#byCrystal(readings.crystalNm, from, count);
      default:
        this.#line.take(readings.light, count, this.#slope, this.#mean);
        return this.#byLight(readings.crystalNm, from, count);
    }
  }

  #byTime(from: number, count: number): number {
    const { nominalS, sampleS } = this.#plan;
    const last = Math.max(from, Math.ceil(nominalS / sampleS - 1 - 1e-9));
    if (last >= from + count) return -1;
    this.closeAfterS = Math.max(0, nominalS - last * sampleS);
    return last - from;
  }

  #byCrystal(crystalNm: Float64Array, from: number, count: number): number {
    const { thicknessNm, nominalS, sampleS, backupS } = this.#plan;
    const planned = (thicknessNm * sampleS) / nominalS;
    for (let i = 0; i < count; i++) {
      const sample = from + i;
      const left = thicknessNm - crystalNm[i]!;
      const perSample = sample > 0 ? crystalNm[i]! / sample : planned;
      if (left <= perSample) {
        this.closeAfterS = Math.max(0, left / perSample) * sampleS;
        return i;
      }
      if (sample * sampleS >= backupS) return this.#closeBy(CUT_BY_BACKUP, i);
    }
    return -1;
  }

  #byLight(crystalNm: Float64Array, from: number, count: number): number {
    const plan = this.#plan;
    const half = (plan.window - 1) / 2;
    const turns = plan.turnNm.length;
    const byTurn = plan.rule === 'turning-point';
    const byClock = Math.max(0, Math.ceil(plan.backupS / plan.sampleS) - from);
    const end = Math.min(count, byClock + 1);
    for (let i = Math.max(0, plan.window - 1 - from); i < end; i++) {
      const crystal = crystalNm[i]!;
      if (crystal < this.#gateNm) continue;
      const rise = this.#slope[i]! * this.#sign;
      if (this.turnsSeen < turns) {
        if (rise <= 0) {
          this.#turn(crystal, this.#mean[i]!);
          if (byTurn && this.turnsSeen === turns) return i;
        }
      } else if (!byTurn) {
        const level = this.#mean[i]! + this.#slope[i]! * half;
        const left = (this.targetLevel - level) * this.#sign;
        const perSample = plan.cutSlope * this.#sign;
        if (left <= 0) return i;
        if (left <= perSample) {
          this.closeAfterS = (left / perSample) * plan.sampleS;
          return i;
        }
        if (rise < -plan.wrongSlope) return this.#closeBy(CUT_BY_WRONG_TURN, i);
      }
      if (crystal >= plan.backupNm) return this.#closeBy(CUT_BY_BACKUP, i);
    }
    return byClock < count ? this.#closeBy(CUT_BY_BACKUP, byClock) : -1;
  }

  #closeBy(ending: number, place: number): number {
    this.ending = ending;
    this.closeAfterS = 0;
    return place;
  }

  #turn(crystalNm: number, smoothedLevel: number): void {
    const plan = this.#plan;
    const from = plan.turnNm[this.turnsSeen]!;
    const next = plan.turnNm[this.turnsSeen + 1] ?? plan.thicknessNm;
    this.#gateNm = crystalNm - plan.lagNm + GATE * (next - from);
    const earlier = this.#latest;
    this.#latest = { level: smoothedLevel, planned: plan.turnLevel[this.turnsSeen]! };
    this.turnsSeen++;
    this.#sign = -this.#sign;
    if (plan.rule !== 'swing') return;
    const planned = this.#latest.planned - earlier.planned;
    const seen = this.#latest.level - earlier.level;
    const scale = Math.abs(planned) > 1e-9 && seen * planned > 0 ? seen / planned : 1;
    this.targetLevel = this.#latest.level + (plan.cutLevel - this.#latest.planned) * scale;
  }
}
