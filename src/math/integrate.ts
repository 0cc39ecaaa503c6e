import { gaussLegendre } from './gauss-legendre.ts';

const PANEL = gaussLegendre(12);
/** Halvings of one panel: a jump is then located to 2^-40 of it. */
const DEEPEST = 40;
const FIRST_STEPS = 16;
const MOST_STEPS = 256;

/**
 * ∫ f over [from, to] by Gauss-Legendre panels that are halved until the halves of each agree with the whole to
 * `tolerance` of the integral of |f|, shared among the first panels: kinks and jumps are closed in on. The share
 * is not halved again, since only few panels hold a kink and finer shares would chase rounding errors.
 * @param panels number of equal panels to begin with: more than f has features.
 */
export function integrate(
  f: (x: number) => number,
  from: number,
  to: number,
  tolerance = 1e-11,
  panels = 1,
): number {
  const width = (to - from) / panels;
  const firsts = Array.from({ length: panels }, (_, index) => {
    const left = from + index * width;
    return { left, right: left + width, value: panel(f, left, left + width) };
  });
  const scale = firsts.reduce((sum, { value }) => sum + Math.abs(value), 0);
  const allowed = (tolerance * scale) / panels;
  return firsts.reduce((sum, { left, right, value }) => sum + halved(f, left, right, value, allowed, 0), 0);
}

/**
 * The mean of a function over its period `period`: by equal steps where it is smooth, else by panels that close in on
 * its kinks.
 */
export function meanOverPeriod(f: (x: number) => number, period: number, tolerance = 1e-11): number {
  const smooth = meanByEqualSteps(f, period, tolerance, FIRST_STEPS, MOST_STEPS);
  return smooth ?? integrate(f, 0, period, tolerance, FIRST_STEPS) / period;
}

/**
 * The mean over a period by equal steps, which converges geometrically where f is smooth (L. N. Trefethen &
 * J. A. C. Weideman, SIAM Rev. 56, 385-458, 2014): the steps are doubled from `first` until the mean changes by no
 * more than `tolerance` of that of |f|. `undefined` where `most` steps do not get there.
 */
export function meanByEqualSteps(
  f: (x: number) => number,
  period: number,
  tolerance: number,
  first: number,
  most: number,
): number | undefined {
  let sum = 0;
  let size = 0;
  const add = (x: number) => {
    const value = f(x);
    sum += value;
    size += Math.abs(value);
  };
  for (let step = 0; step < first; step++) add((period * step) / first);
  let mean = sum / first;
  for (let steps = first; steps < most; steps *= 2) {
    for (let step = 0; step < steps; step++) add((period * (step + 0.5)) / steps);
    const finer = sum / (2 * steps);
    if (Math.abs(finer - mean) <= (tolerance * size) / (2 * steps)) return finer;
    mean = finer;
  }
  return undefined;
}

function panel(f: (x: number) => number, left: number, right: number): number {
  const half = (right - left) / 2;
  const middle = (left + right) / 2;
  let sum = 0;
  for (let index = 0; index < PANEL.nodes.length; index++)
    sum += PANEL.weights[index]! * f(middle + half * PANEL.nodes[index]!);
  return sum * half;
}

function halved(
  f: (x: number) => number,
  left: number,
  right: number,
  whole: number,
  allowed: number,
  depth: number,
): number {
  const middle = (left + right) / 2;
  const first = panel(f, left, middle);
  const second = panel(f, middle, right);
  if (depth >= DEEPEST || Math.abs(first + second - whole) <= allowed) return first + second;
  return (
    halved(f, left, middle, first, allowed, depth + 1) + halved(f, middle, right, second, allowed, depth + 1)
  );
}
