import { Merit } from '../merit.ts';
import { type RefineBounds, refineThickness } from '../refine.ts';
import { type Draft, pointsOf, type SearchProblem } from './search-problem.ts';
import { type Sketch, tidy, withoutLayer } from './tidy.ts';

/**
 * Counts work in evaluations × layers × points, which doesn't depend on the machine's speed. A machine that is too slow
 * for the work runs into the time limit.
 */
export class WorkMeter {
  spent = 0;
  /** Whether the time was over before the allowance. */
  isLate = false;
  readonly #points: number;
  readonly allowance: number;
  readonly #untilMs: number;

  /** @param untilMs end of the time as `Date.now` counts it, in ms. */
  constructor(problem: SearchProblem, allowance: number, untilMs = Number.POSITIVE_INFINITY) {
    this.#points = pointsOf(problem.grid);
    this.allowance = allowance;
    this.#untilMs = untilMs;
  }

  /** Books evaluations of a stack. The constant stands for what setting up a stack costs. */
  book(layers: number, evaluations: number): void {
    this.spent += (layers + 2) * (evaluations + 2) * this.#points;
    if (this.spent < this.allowance && Date.now() >= this.#untilMs) this.isLate = true;
  }

  get isSpent(): boolean {
    return this.isLate || this.spent >= this.allowance;
  }
}

/** How hard a local search tries. */
export interface Effort {
  readonly sharpness: readonly number[];
  readonly maxEvaluations: number;
  readonly relativeTolerance: number;
}

/** The power of the power means at which stacks are compared before they are fully settled. */
export const ROUGH_SHARPNESS = 2;

/** A stack that was only roughly settled, with its smooth merit. */
export interface RoughDraft extends Sketch {
  readonly rough: number;
}

/** Evaluations of a rough settling, and how far behind (as a multiple of the hurdle) a stack may be on the way. */
const ROUGH_EVALUATIONS = 25;
const HURDLES: readonly (readonly [evaluations: number, multiple: number])[] = [
  [10, 2.5],
  [16, 1.6],
];

/**
 * A few steps towards the near minimum of the smooth merit: enough to tell whether a stack deserves more. One that is
 * still far above the `hurdle` halfway is left where it then stands.
 */
export function roughlySettle(
  problem: SearchProblem,
  sketch: Sketch,
  meter: WorkMeter,
  hurdle = Number.POSITIVE_INFINITY,
): RoughDraft {
  const merit = new Merit(problem.grid, sketch.materials);
  const refined = refineThickness(merit, sketch.thicknessNm, {
    bounds: boundsOf(problem),
    sharpness: [ROUGH_SHARPNESS],
    maxEvaluations: ROUGH_EVALUATIONS,
    relativeTolerance: 1e-3,
    stop: (evaluations, value) =>
      HURDLES.some(([at, multiple]) => evaluations === at && value > multiple * hurdle),
  });
  meter.book(sketch.materials.length, refined.evaluations);
  return {
    materials: sketch.materials,
    thicknessNm: refined.thicknessNm,
    rough: merit.smooth(refined.thicknessNm, ROUGH_SHARPNESS),
  };
}

/** The smooth merit of a stack as it is. */
export function roughMerit(problem: SearchProblem, { materials, thicknessNm }: Sketch): number {
  return new Merit(problem.grid, materials).smooth(thicknessNm, ROUGH_SHARPNESS);
}

function boundsOf({ minNm, maxNm, maxTotalNm }: SearchProblem): RefineBounds {
  return { minNm, maxNm, ...(maxTotalNm === undefined ? {} : { maxTotalNm }) };
}

/** Refines a sketch within the problem's bounds. */
export function settle(problem: SearchProblem, sketch: Sketch, effort: Effort, meter: WorkMeter): Draft {
  const { materials } = sketch;
  const merit = new Merit(problem.grid, materials);
  const refined = refineThickness(merit, sketch.thicknessNm, {
    bounds: boundsOf(problem),
    ...effort,
  });
  meter.book(materials.length, refined.evaluations);
  return { materials, thicknessNm: refined.thicknessNm, merit: refined.merit };
}

/**
 * Takes out layers that stand at the thinnest allowed or barely serve: each is tried, and left out where that
 * costs less than `tolerance` of the merit.
 */
export function prune(
  problem: SearchProblem,
  draft: Draft,
  effort: Effort,
  meter: WorkMeter,
  tolerance = 1e-3,
): Draft {
  let best = draft;
  for (let layer = 0; layer < best.materials.length && best.materials.length > 1; ) {
    const isThin = best.thicknessNm[layer]! <= problem.minNm * 1.01;
    if (isThin) {
      const without = settle(problem, tidy(withoutLayer(best, layer)), effort, meter);
      if (without.merit <= best.merit * (1 + tolerance)) {
        best = without;
        layer = 0;
        continue;
      }
    }
    layer++;
  }
  return best;
}
