import { Random } from '../math/random.ts';
import type { ThicknessMerit } from './merit.ts';
import type { LayerErrors } from './tolerance/trial-plan.ts';

/** Errors of one virtual coating: each layer becomes d · factor + offset, no thinner than nothing. */
interface Scenario {
  readonly factor: Float64Array;
  readonly offsetNm: Float64Array;
}

/** Pairs of virtual coatings that stand for all: each error comes with its opposite, so that the mean has no bias. */
const PAIRS = 12;

/**
 * The mean merit of virtual coatings with errors of thickness, the same ones at every call: what is lowest here
 * stays good when it is made. Since excess over a limit counts ten times, it also is a smooth stand-in for the
 * yield. Errors of index are left to the trials, since they would need tables of their own.
 */
export class RobustMerit implements ThicknessMerit {
  readonly isSharpened: boolean;
  readonly #merit: ThicknessMerit;
  readonly #scenarios: readonly Scenario[];
  readonly #thickness: Float64Array;
  readonly #gradient: Float64Array;
  readonly #curvature: Float64Array;

  constructor(merit: ThicknessMerit, layers: number, errors: LayerErrors, seed: number) {
    this.#merit = merit;
    this.isSharpened = merit.isSharpened;
    const random = new Random(seed);
    const draw = () => Float64Array.from({ length: layers }, () => random.normal());
    const pairs = Array.from({ length: PAIRS }, () => ({ relative: draw(), absolute: draw() }));
    this.#scenarios = pairs.flatMap(({ relative, absolute }) =>
      [1, -1].map((sign) => ({
        factor: relative.map((z) => 1 + (sign * z * errors.relativePercent) / 100),
        offsetNm: absolute.map((z) => sign * z * errors.absoluteNm),
      })),
    );
    this.#thickness = new Float64Array(layers);
    this.#gradient = new Float64Array(layers);
    this.#curvature = new Float64Array(layers * layers);
  }

  exact(thicknessNm: Float64Array): number {
    let sum = 0;
    for (const scenario of this.#scenarios) {
      this.#disturb(thicknessNm, scenario);
      sum += this.#merit.exact(this.#thickness);
    }
    return sum / this.#scenarios.length;
  }

  smoothWithDerivatives(
    thicknessNm: Float64Array,
    sharpness: number,
    gradient: Float64Array,
    curvature: Float64Array,
  ): number {
    const layers = thicknessNm.length;
    const share = 1 / this.#scenarios.length;
    gradient.fill(0);
    curvature.fill(0);
    let value = 0;
    for (const scenario of this.#scenarios) {
      this.#disturb(thicknessNm, scenario);
      value +=
        share *
        this.#merit.smoothWithDerivatives(this.#thickness, sharpness, this.#gradient, this.#curvature);
      // The chain rule: a layer that came out as nothing doesn't follow its thickness.
      const slope = (layer: number) => (this.#thickness[layer]! > 0 ? scenario.factor[layer]! : 0);
      for (let i = 0; i < layers; i++) {
        gradient[i]! += share * slope(i) * this.#gradient[i]!;
        for (let j = 0; j < layers; j++)
          curvature[i * layers + j]! += share * slope(i) * slope(j) * this.#curvature[i * layers + j]!;
      }
    }
    return value;
  }

  #disturb(thicknessNm: Float64Array, { factor, offsetNm }: Scenario): void {
    for (let layer = 0; layer < thicknessNm.length; layer++)
      this.#thickness[layer] = Math.max(0, thicknessNm[layer]! * factor[layer]! + offsetNm[layer]!);
  }
}
