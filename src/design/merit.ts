import { addGram } from '../math/gram.ts';
import { addOuterProduct, mirrorLower } from '../math/least-squares.ts';
import { exactGoalLoss, goalLoss } from './goal-loss.ts';
import { ChannelSpectrum } from './merit-channel.ts';
import type { MeritGoal, MeritGrid } from './merit-grid.ts';

/** Each part of a loss beyond what is allowed counts this much more than a part within. */
const EXCESS_FACTOR = 10;
/** Where the smooth merit begins to count excess, so that a met limit stays met. */
const EXCESS_FROM = 0.97;

/** Losses below this (1e-9 %) count as this in the curvature, which has the loss below the fraction line. */
const LEAST_LOSS = 1e-11;

/** What thicknesses can be refined on. */
export interface ThicknessMerit {
  /** Whether the smooth merit depends on the sharpness. */
  readonly isSharpened: boolean;
  /** The merit itself; thicknesses in nm from the substrate on. */
  exact(thicknessNm: Float64Array): number;
  /** The smooth merit with its gradient and curvature (row-major) over the layers, per nm. */
  smoothWithDerivatives(
    thicknessNm: Float64Array,
    sharpness: number,
    gradient: Float64Array,
    curvature: Float64Array,
  ): number;
}

/**
 * The merit of stacks of the same materials: the weighted mean of (loss / allowed loss) over the requirements, where
 * what exceeds 1 counts ten times more; the lower, the better. Below 1 all that is met has margin left, and
 * the search goes on widening it; above, something is missed.
 *
 * The descent works on a smooth version: power means for extrema, a rounded corner for the excess. Its curvature
 * is that of least squares, in which a loss counts as the square of an amplitude.
 */
export class Merit implements ThicknessMerit {
  readonly layerCount: number;
  /** Whether the smooth merit depends on the sharpness: not where only means at single angles count. */
  readonly isSharpened: boolean;
  readonly #spectra: readonly ChannelSpectrum[];
  readonly #goals: readonly GoalState[];
  /** [layer][row]: rows whose products add up to a channel's curvature. */
  readonly #rows: Float64Array;
  readonly #own: Float64Array;

  /** @param materials for each layer, from the substrate on, its place in the grid's palette. */
  constructor(grid: MeritGrid, materials: readonly number[]) {
    this.layerCount = materials.length;
    this.#spectra = grid.channels.map((channel) => new ChannelSpectrum(channel, materials));
    this.#goals = grid.goals.map((goal) => {
      const points = () =>
        goal.channels.map((place) => new Float64Array(grid.channels[place]!.wavelengthNm.length));
      return { goal, losses: points(), slopes: points(), bends: points() };
    });
    this.isSharpened = grid.goals.some(
      ({ channels, requirement: { statistic } }) => channels.length > 1 || statistic !== 'mean',
    );
    const mostRows = Math.max(
      ...this.#spectra.map(
        ({ reflectance, amplitudeDerivatives }) => reflectance.length * (2 * amplitudeDerivatives.length + 1),
      ),
    );
    this.#rows = new Float64Array(this.layerCount * mostRows);
    this.#own = new Float64Array(this.layerCount);
  }

  /** The merit itself on the grid's points. `thicknessNm` from the substrate on. */
  exact(thicknessNm: Float64Array): number {
    this.#update(thicknessNm);
    let merit = 0;
    for (const { goal, losses } of this.#goals) {
      const ratio = exactGoalLoss(goal, losses) / goal.allowedLoss;
      merit += goal.weight * (ratio + EXCESS_FACTOR * Math.max(0, ratio - 1));
    }
    return merit;
  }

  /** The smooth merit; `sharpness` is the power of the power means. */
  smooth(thicknessNm: Float64Array, sharpness: number): number {
    this.#update(thicknessNm);
    let merit = 0;
    for (const { goal, losses } of this.#goals)
      merit += goal.weight * pressure(goalLoss(goal, losses, sharpness) / goal.allowedLoss).value;
    return merit;
  }

  /** The smooth merit with its gradient and least-squares curvature (row-major) over the layers, per nm. */
  smoothWithDerivatives(
    thicknessNm: Float64Array,
    sharpness: number,
    gradient: Float64Array,
    curvature: Float64Array,
  ): number {
    curvature.fill(0);
    const merit = this.#descend(thicknessNm, sharpness, gradient, curvature);
    mirrorLower(curvature, gradient.length);
    return merit;
  }

  /** The smooth merit with its gradient alone. */
  smoothGradient(thicknessNm: Float64Array, sharpness: number, gradient: Float64Array): number {
    return this.#descend(thicknessNm, sharpness, gradient, undefined);
  }

  #descend(
    thicknessNm: Float64Array,
    sharpness: number,
    gradient: Float64Array,
    curvature: Float64Array | undefined,
  ): number {
    for (const spectrum of this.#spectra) spectrum.updateWithDerivatives(thicknessNm);
    gradient.fill(0);
    let merit = 0;
    for (const { goal, losses, slopes, bends } of this.#goals) {
      this.#gatherLosses(goal, losses);
      const loss = goalLoss(goal, losses, sharpness, slopes, bends);
      const { value, slope, bend } = pressure(loss / goal.allowedLoss);
      merit += goal.weight * value;
      const scale = (goal.weight * slope) / goal.allowedLoss;
      this.#own.fill(0);
      goal.channels.forEach((place, a) => {
        const points = { loss: losses[a]!, slopes: slopes[a]!, bends: bends[a]! };
        this.#addGradient(goal, this.#spectra[place]!, points.slopes);
        if (curvature !== undefined)
          this.#addCurvature(goal, this.#spectra[place]!, points, scale, curvature);
      });
      const { length } = gradient;
      for (let layer = 0; layer < length; layer++) gradient[layer]! += scale * this.#own[layer]!;
      if (bend > 0 && curvature !== undefined)
        addOuterProduct(this.#own, 0, (goal.weight * bend) / goal.allowedLoss ** 2, 0, gradient, curvature);
    }
    return merit;
  }

  #update(thicknessNm: Float64Array): void {
    for (const spectrum of this.#spectra) spectrum.update(thicknessNm);
    for (const { goal, losses } of this.#goals) this.#gatherLosses(goal, losses);
  }

  #gatherLosses(goal: MeritGoal, losses: readonly Float64Array[]): void {
    const { quantity, sense } = goal.requirement;
    for (let a = 0; a < losses.length; a++) {
      const { reflectance: r, transmittance: t } = this.#spectra[goal.channels[a]!]!;
      const loss = losses[a]!;
      for (let i = 0; i < loss.length; i++) {
        const value = quantity === 'R' ? r[i]! : quantity === 'T' ? t[i]! : 1 - r[i]! - t[i]!;
        loss[i] = Math.max(0, sense === 'below' ? value : 1 - value);
      }
    }
  }

  /** Adds the gradient of a goal's loss, as far as it comes from one channel, to #own. */
  #addGradient(
    { requirement: { quantity, sense } }: MeritGoal,
    spectrum: ChannelSpectrum,
    slopes: Float64Array,
  ): void {
    const sign = sense === 'below' ? 1 : -1;
    const layers = this.layerCount;
    const { reflectanceDerivative: dr, transmittanceDerivative: dt } = spectrum;
    for (let i = 0; i < slopes.length; i++) {
      const slope = sign * slopes[i]!;
      if (slope === 0) continue;
      const at = i * layers;
      if (quantity === 'A')
        for (let j = 0; j < layers; j++) this.#own[j]! -= slope * (dr[at + j]! + dt[at + j]!);
      else {
        const rows = quantity === 'R' ? dr : dt;
        for (let j = 0; j < layers; j++) this.#own[j]! += slope * rows[at + j]!;
      }
    }
  }

  /**
   * Adds the least-squares curvature of one channel, scaled to the merit. A loss that is reflected light is the square
   * of the reflection coefficient r: its q'' ≈ 2 Re(r'* r'^T) takes two rows a polarization, real and imaginary part.
   * Any other loss is taken as the square of its root, q'' ≈ q' q'^T / 2q: one row. A power mean's own bend adds
   * bend · q' q'^T.
   */
  #addCurvature(
    { requirement: { quantity, sense } }: MeritGoal,
    spectrum: ChannelSpectrum,
    { loss, slopes, bends }: { loss: Float64Array; slopes: Float64Array; bends: Float64Array },
    scale: number,
    curvature: Float64Array,
  ): void {
    const layers = this.layerCount;
    const { reflectanceDerivative: dr, transmittanceDerivative: dt, amplitudeDerivatives } = spectrum;
    const isReflected = (quantity === 'R' && sense === 'below') || (quantity === 'T' && sense === 'above');
    const rows = this.#rows;
    const stride = rows.length / Math.max(1, layers);
    let row = 0;
    for (let i = 0; i < loss.length; i++) {
      const slope = slopes[i]!;
      if (slope === 0) continue;
      if (isReflected) {
        const root = Math.sqrt((2 * scale * slope) / amplitudeDerivatives.length);
        for (const amplitude of amplitudeDerivatives) {
          for (let j = 0, at = 2 * i * layers; j < layers; j++, at += 2) {
            rows[j * stride + row] = root * amplitude[at]!;
            rows[j * stride + row + 1] = root * amplitude[at + 1]!;
          }
          row += 2;
        }
      }
      const bend = bends[i]! + (isReflected ? 0 : slope / (2 * Math.max(loss[i]!, LEAST_LOSS)));
      if (bend === 0) continue;
      const root = Math.sqrt(scale * bend);
      for (let j = 0, at = i * layers; j < layers; j++, at++) {
        const derivative = quantity === 'R' ? dr[at]! : quantity === 'T' ? dt[at]! : dr[at]! + dt[at]!;
        rows[j * stride + row] = root * derivative;
      }
      row++;
    }
    addGram(rows, stride, row, layers, curvature);
  }
}

interface GoalState {
  readonly goal: MeritGoal;
  readonly losses: readonly Float64Array[];
  readonly slopes: readonly Float64Array[];
  readonly bends: readonly Float64Array[];
}

/** A ratio's part in the smooth merit: the ratio plus its excess, rounded between EXCESS_FROM and 1. */
function pressure(ratio: number): { value: number; slope: number; bend: number } {
  const width = 1 - EXCESS_FROM;
  const over = ratio - EXCESS_FROM;
  if (over <= 0) return { value: ratio, slope: 1, bend: 0 };
  if (over >= width)
    return { value: ratio + EXCESS_FACTOR * (over - width / 2), slope: 1 + EXCESS_FACTOR, bend: 0 };
  return {
    value: ratio + (EXCESS_FACTOR * over * over) / (2 * width),
    slope: 1 + (EXCESS_FACTOR * over) / width,
    bend: EXCESS_FACTOR / width,
  };
}
