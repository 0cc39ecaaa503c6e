import { type CutPlan, LARGEST_WINDOW } from './cut-plan.ts';
import { SlidingLine } from './sliding-line.ts';

/** How a layer ended: as its rule said, by a turn before its level came, or by crystal or clock standing by. */
export const CUT_AS_RULED = 0;
export const CUT_BY_WRONG_TURN = 1;
export const CUT_BY_BACKUP = 2;

/** An expected turn or level is looked for only after this share of the way (by crystal) from the last event to it. */
const GATE = 0.5;

/**
 * Decides when to close the shutter, from what an instrument can see: readings of the light, of the crystal and of the
 * clock. It never learns the true thickness. One controller serves one layer after the other.
 */
export class Controller {
  readonly #line = new SlidingLine(LARGEST_WINDOW);
  #plan!: CutPlan;
  #sign = 1;
  #turns = 0;
  #gateNm = 0;
  #targetLevel = 0;
  #olderLevel = 0;
  #olderPlanned = 0;
  #latestLevel = 0;
  #latestPlanned = 0;
  /** How the layer ended, one of the three words above. */
  ending = CUT_AS_RULED;

  /** @param startReading the light before the shutter opens, as well as it is known (a mean of readings). */
  begin(plan: CutPlan, startReading: number): void {
    this.#plan = plan;
    this.#line.begin(plan.window);
    this.#sign = plan.firstSign;
    this.#turns = 0;
    this.#gateNm = GATE * (plan.turnNm[0] ?? plan.thicknessNm);
    this.ending = CUT_AS_RULED;
    this.#latestLevel = startReading;
    this.#latestPlanned = plan.startLevel;
    this.#targetLevel = plan.cutLevel;
    if (plan.rule === 'swing' && plan.startLevel > 0)
      this.#targetLevel = (plan.cutLevel * startReading) / plan.startLevel;
  }

  /** How many turns have been found in this layer. */
  get turnsSeen(): number {
    return this.#turns;
  }

  /** The level that would close the shutter, as far as it is known now. */
  get targetLevel(): number {
    return this.#targetLevel;
  }

  /**
   * Takes the readings at sample number `sample` (0 when the shutter opens).
   * @returns the time from now after which to close, s, or -1 to go on.
   */
  see(sample: number, reading: number, crystalNm: number): number {
    const plan = this.#plan;
    const timeS = sample * plan.sampleS;
    if (plan.rule === 'time') {
      const left = plan.nominalS - timeS;
      return left <= plan.sampleS ? Math.max(0, left) : -1;
    }
    if (plan.rule === 'crystal') {
      const left = plan.thicknessNm - crystalNm;
      const perSample = sample > 0 ? crystalNm / sample : plan.thicknessNm / (plan.nominalS / plan.sampleS);
      if (left <= perSample) return left <= 0 ? 0 : (left / perSample) * plan.sampleS;
      return this.#backup(timeS, crystalNm);
    }
    const full = this.#line.push(reading);
    if (full && crystalNm >= this.#gateNm) {
      const line = this.#line;
      if (this.#turns < plan.turnNm.length) {
        if (line.slope * this.#sign <= 0) {
          this.#turn(crystalNm);
          if (plan.rule === 'turning-point' && this.#turns === plan.turnNm.length) return 0;
        }
      } else if (plan.rule !== 'turning-point') {
        const left = (this.#targetLevel - line.end) * this.#sign;
        if (left <= 0) return 0;
        const perSample = plan.cutSlope * this.#sign;
        if (left <= perSample) return (left / perSample) * plan.sampleS;
        if (line.slope * this.#sign < -plan.wrongSlope) {
          this.ending = CUT_BY_WRONG_TURN;
          return 0;
        }
      }
    }
    return this.#backup(timeS, crystalNm);
  }

  #backup(timeS: number, crystalNm: number): number {
    if (crystalNm < this.#plan.backupNm && timeS < this.#plan.backupS) return -1;
    this.ending = CUT_BY_BACKUP;
    return 0;
  }

  #turn(crystalNm: number): void {
    const plan = this.#plan;
    const from = plan.turnNm[this.#turns]!;
    const next = plan.turnNm[this.#turns + 1] ?? plan.thicknessNm;
    this.#gateNm = crystalNm - plan.lagNm + GATE * (next - from);
    this.#olderLevel = this.#latestLevel;
    this.#olderPlanned = this.#latestPlanned;
    this.#latestLevel = this.#line.mean;
    this.#latestPlanned = plan.turnLevel[this.#turns]!;
    this.#turns++;
    this.#sign = -this.#sign;
    if (plan.rule !== 'swing') return;
    const planned = this.#latestPlanned - this.#olderPlanned;
    const seen = this.#latestLevel - this.#olderLevel;
    const scale = Math.abs(planned) > 1e-9 && seen * planned > 0 ? seen / planned : 1;
    this.#targetLevel = this.#latestLevel + (plan.cutLevel - this.#latestPlanned) * scale;
  }
}
