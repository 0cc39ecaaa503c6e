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
 * The mean of a function over its period `period`. Equal steps converge geometrically where f is smooth
 * (L. N. Trefethen & J. A. C. Weideman, SIAM Rev. 56, 385-458, 2014), so their number is doubled until nothing
 * changes; where f has kinks that does not happen soon, and panels close in on them.
 */
export function meanOverPeriod(f: (x: number) => number, period: number, tolerance = 1e-11): number {
  let steps = FIRST_STEPS;
  let sum = 0;
  let size = 0;
  const add = (x: number) => {
    const value = f(x);
    sum += value;
    size += Math.abs(value);
  };
  for (let step = 0; step < steps; step++) add((period * step) / steps);
  let mean = sum / steps;
  while (steps < MOST_STEPS) {
    for (let step = 0; step < steps; step++) add((period * (step + 0.5)) / steps);
    steps *= 2;
    const finer = sum / steps;
    if (Math.abs(finer - mean) <= (tolerance * size) / steps) return finer;
    mean = finer;
  }
  return integrate(f, 0, period, tolerance, FIRST_STEPS) / period;
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
