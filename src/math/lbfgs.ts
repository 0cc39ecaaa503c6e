/** Writes the gradient at `x` into `gradient` (owned by the caller) and returns the value. */
export type Objective = (x: Float64Array, gradient: Float64Array) => number;

export interface LbfgsOptions {
  readonly iterations: number;
  /** Ends when the value falls to this. */
  readonly goal: number;
  /** Ends when the value no longer falls by this part of itself over ten iterations. */
  readonly stall?: number;
}

const MEMORY = 8;
const SUFFICIENT = 1e-4;
const CURVATURE = 0.9;
const MOST_ATTEMPTS = 25;
const STALL_SPAN = 10;

/**
 * Smooth unconstrained minimisation by limited-memory BFGS (D. C. Liu & J. Nocedal, Math. Program. 45, 503-528,
 * 1989) with steps that meet the weak Wolfe conditions, found by bisection (A. S. Lewis & M. L. Overton, Math.
 * Program. 141, 135-163, 2013). `x` is improved in place; returns the value there. Work arrays are
 * allocated once for a dimension: keep the minimiser for many runs.
 */
export class Lbfgs {
  readonly #dimension: number;
  readonly #steps: Float64Array[];
  readonly #changes: Float64Array[];
  readonly #inverse = new Float64Array(MEMORY);
  readonly #factors = new Float64Array(MEMORY);
  readonly #gradient: Float64Array;
  readonly #direction: Float64Array;
  readonly #trial: Float64Array;
  readonly #trialGradient: Float64Array;

  constructor(dimension: number) {
    const array = () => new Float64Array(dimension);
    this.#dimension = dimension;
    this.#steps = Array.from({ length: MEMORY }, array);
    this.#changes = Array.from({ length: MEMORY }, array);
    this.#gradient = array();
    this.#direction = array();
    this.#trial = array();
    this.#trialGradient = array();
  }

  minimise(objective: Objective, x: Float64Array, { iterations, goal, stall = 0 }: LbfgsOptions): number {
    const gradient = this.#gradient;
    const direction = this.#direction;
    const trial = this.#trial;
    const trialGradient = this.#trialGradient;
    const n = this.#dimension;
    let value = objective(x, gradient);
    let kept = 0;
    let next = 0;
    let watched = value;
    for (let iteration = 1; iteration <= iterations && value > goal; iteration++) {
      this.#quasiNewton(kept, next);
      let slope = dot(direction, gradient);
      if (!(slope < 0)) {
        kept = 0;
        for (let i = 0; i < n; i++) direction[i] = -gradient[i]!;
        slope = -dot(gradient, gradient);
        if (slope === 0) return value;
      }
      let length = 1;
      let [shortest, longest] = [0, Number.POSITIVE_INFINITY];
      let trialValue = Number.POSITIVE_INFINITY;
      for (let attempt = 0; attempt <= MOST_ATTEMPTS; attempt++) {
        for (let i = 0; i < n; i++) trial[i] = x[i]! + length * direction[i]!;
        trialValue = objective(trial, trialGradient);
        if (!(trialValue <= value + SUFFICIENT * length * slope)) longest = length;
        else if (dot(direction, trialGradient) < CURVATURE * slope) shortest = length;
        else break;
        length = longest === Number.POSITIVE_INFINITY ? 2 * length : (shortest + longest) / 2;
      }
      if (!(trialValue < value)) {
        if (kept === 0) return value;
        kept = 0;
        continue;
      }
      const step = this.#steps[next]!;
      const change = this.#changes[next]!;
      let curvature = 0;
      for (let i = 0; i < n; i++) {
        step[i] = trial[i]! - x[i]!;
        change[i] = trialGradient[i]! - gradient[i]!;
        curvature += step[i]! * change[i]!;
        x[i] = trial[i]!;
        gradient[i] = trialGradient[i]!;
      }
      value = trialValue;
      if (curvature > 0) {
        this.#inverse[next] = 1 / curvature;
        next = (next + 1) % MEMORY;
        kept = Math.min(MEMORY, kept + 1);
      }
      if (iteration % STALL_SPAN === 0) {
        if (watched - value <= stall * watched) return value;
        watched = value;
      }
    }
    return value;
  }

  /** The two-loop recursion: direction = −H · gradient. */
  #quasiNewton(kept: number, next: number): void {
    const n = this.#dimension;
    const direction = this.#direction;
    for (let i = 0; i < n; i++) direction[i] = -this.#gradient[i]!;
    for (let back = 1; back <= kept; back++) {
      const at = (next - back + MEMORY) % MEMORY;
      const factor = this.#inverse[at]! * dot(this.#steps[at]!, direction);
      this.#factors[at] = factor;
      const change = this.#changes[at]!;
      for (let i = 0; i < n; i++) direction[i] = direction[i]! - factor * change[i]!;
    }
    if (kept > 0) {
      const last = (next - 1 + MEMORY) % MEMORY;
      const scale = 1 / (this.#inverse[last]! * dot(this.#changes[last]!, this.#changes[last]!));
      for (let i = 0; i < n; i++) direction[i] = direction[i]! * scale;
    }
    for (let back = kept; back >= 1; back--) {
      const at = (next - back + MEMORY) % MEMORY;
      const factor = this.#factors[at]! - this.#inverse[at]! * dot(this.#changes[at]!, direction);
      const step = this.#steps[at]!;
      for (let i = 0; i < n; i++) direction[i] = direction[i]! + factor * step[i]!;
    }
  }
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
