import type { Random } from '../math/random.ts';
import type { CrystalStock } from './crystal-stock.ts';
import type { RunNoise } from './run-noise.ts';

/** How the crystal came through a layer: within its budget, beyond it, or lost. */
export const CRYSTAL_KEPT = 0;
export const CRYSTAL_OVER_BUDGET = 1;
export const CRYSTAL_LOST = 2;

/**
 * What the crystal monitor shows. Each layer has its own error of scale. A crystal that carries a part of its budget
 * reads off and jitters by that part of the aged values, and is lost once it has fallen by its own life, drawn when it
 * is turned in. After that the display goes on at the set rate from where it was; before the next layer the holder
 * turns in a fresh crystal, if it has one (common practice, no source; how crystals age differs from shop to shop).
 */
export class CrystalReader {
  readonly #noise: RunNoise;
  readonly #stock: CrystalStock | undefined;
  /** Of the crystal in use, Hz: what it had lost when the layer began, and when it is lost itself. */
  #usedHz = 0;
  #lifeHz = Number.POSITIVE_INFINITY;
  #left = 0;
  #isDrawn = false;
  #scale = 1;
  #fallHzPerNm = 0;
  #grownNm = 0;
  #stepNm = 0;
  #shownNm = 0;
  /** The crystal in use is lost: the display goes by set rate and clock. */
  isLost = false;

  constructor(noise: RunNoise, stock: CrystalStock | undefined) {
    this.#noise = noise;
    this.#stock = stock;
  }

  /** The first crystal of a run. */
  begin(): void {
    this.#usedHz = this.#stock?.usedHz ?? 0;
    this.#left = (this.#stock?.count ?? Number.POSITIVE_INFINITY) - 1;
    this.#isDrawn = false;
    this.isLost = false;
  }

  /** Before a layer: turns in a fresh crystal where this one is lost or the layer would take it beyond its budget. */
  openShutter(layer: number, plannedNm: number, rateNmPerS: number, random: Random): void {
    const { crystalPercent, sampleS } = this.#noise;
    this.#scale = crystalPercent ? Math.max(0.01, 1 + (crystalPercent / 100) * random.normal()) : 1;
    this.#stepNm = rateNmPerS * sampleS;
    this.#shownNm = 0;
    this.#grownNm = 0;
    const stock = this.#stock;
    if (stock === undefined) {
      this.isLost = false;
      return;
    }
    this.#fallHzPerNm = stock.fallHzPerNm[layer]!;
    const isFull = this.#usedHz > 0 && this.#usedHz + plannedNm * this.#fallHzPerNm > stock.budgetHz;
    if ((isFull || this.isLost) && this.#left > 0) {
      this.#left--;
      this.#usedHz = 0;
      this.#isDrawn = false;
      this.isLost = false;
    }
    if (!this.#isDrawn) this.#drawLife(stock.budgetHz, random);
  }

  #drawLife(budgetHz: number, random: Random): void {
    const { crystalLifePercent, crystalLifeScatterPercent = 0 } = this.#noise;
    this.#isDrawn = true;
    if (crystalLifePercent === undefined) {
      this.#lifeHz = Number.POSITIVE_INFINITY;
      return;
    }
    const scatter = crystalLifeScatterPercent === 0 ? 0 : (crystalLifeScatterPercent / 100) * random.normal();
    this.#lifeHz = (crystalLifePercent / 100) * budgetHz * Math.max(0.01, 1 + scatter);
  }

  /**
   * Writes what the crystal shows of the next `count` samples.
   * @param grownNm truly grown on the lens after each. @param lostAt the place at which a mishap takes the crystal, or -1.
   */
  take(grownNm: Float64Array, crystalNm: Float64Array, count: number, lostAt: number, random: Random): void {
    const scale = this.#scale;
    for (let i = 0; i < count; i++) crystalNm[i] = grownNm[i]! * scale;
    this.#grownNm = grownNm[count - 1] ?? this.#grownNm;
    const stock = this.#stock;
    const lifeHz = this.#lifeHz - this.#usedHz;
    const ends = stock !== undefined && this.#grownNm * this.#fallHzPerNm >= lifeHz;
    if (stock !== undefined) this.#age(stock, grownNm, crystalNm, count, random);
    if (!this.isLost && lostAt < 0 && !ends) {
      this.#shownNm = crystalNm[count - 1] ?? this.#shownNm;
      return;
    }
    for (let i = 0; i < count; i++) {
      this.isLost ||= i === lostAt || (ends && grownNm[i]! * this.#fallHzPerNm >= lifeHz);
      this.#shownNm = this.isLost ? this.#shownNm + this.#stepNm : crystalNm[i]!;
      crystalNm[i] = this.#shownNm;
    }
  }

  #age(
    { budgetHz }: CrystalStock,
    grownNm: Float64Array,
    crystalNm: Float64Array,
    count: number,
    random: Random,
  ): void {
    const shift = (this.#noise.crystalAgedShiftPercent ?? 0) / 100;
    const jitterNm = this.#noise.crystalAgedNoiseNm ?? 0;
    if (shift === 0 && jitterNm === 0) return;
    for (let i = 0; i < count; i++) {
      const worn = (this.#usedHz + grownNm[i]! * this.#fallHzPerNm) / budgetHz;
      crystalNm[i]! *= 1 + shift * worn;
      if (jitterNm !== 0) crystalNm[i]! += jitterNm * worn * random.normal();
    }
  }

  /** After a layer that has truly grown to `lensNm`: how the crystal came through it. */
  closeShutter(lensNm: number): number {
    if (this.#stock === undefined) return this.isLost ? CRYSTAL_LOST : CRYSTAL_KEPT;
    this.#usedHz += lensNm * this.#fallHzPerNm;
    if (this.isLost) return CRYSTAL_LOST;
    return this.#usedHz > this.#stock.budgetHz ? CRYSTAL_OVER_BUDGET : CRYSTAL_KEPT;
  }

  /** What is left of the present crystal's budget, Hz, below 0 beyond it; undefined where nothing is known of crystals. */
  leftHz(lensNm: number): number | undefined {
    if (this.#stock === undefined) return undefined;
    return this.#stock.budgetHz - this.#usedHz - lensNm * this.#fallHzPerNm;
  }
}
