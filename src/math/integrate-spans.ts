import { gaussLegendre } from './gauss-legendre.ts';

const PANEL = gaussLegendre(12);
/** Longest stretch for one panel: the functions meant here turn over in about a rad. */
const PANEL_RAD = 0.7;
const SECANTS = 40;

/**
 * ∫ f over those parts of [from, to] (rad) where `inside` is positive, for the very many small integrals of a mean
 * over a motion: the ends are bracketed by `samples` equal steps and sought to about 1e-11 rad; between them f is as
 * smooth as the light of a source over an angle, so panels of fixed order do. Parts narrower than a step may be missed
 * (`integrateWhere` is the careful one).
 */
export function integrateSpans(
  f: (x: number) => number,
  inside: (x: number) => number,
  from: number,
  to: number,
  samples: number,
): number {
  const step = (to - from) / samples;
  let sum = 0;
  let last = from;
  let before = inside(from);
  let begun = before > 0 ? from : Number.NaN;
  for (let index = 1; index <= samples; index++) {
    const x = index === samples ? to : from + index * step;
    const value = inside(x);
    if (value > 0 !== before > 0) {
      const end = signChange(inside, last, x, before, value);
      if (value > 0) begun = end;
      else sum += integrateSmooth(f, begun, end);
    }
    last = x;
    before = value;
  }
  return before > 0 ? sum + integrateSmooth(f, begun, to) : sum;
}

/**
 * Where a continuous f changes its sign between two places at which it has different ones, to about 1e-11: regula falsi
 * with the Illinois rule, by which each end that stays is halved.
 */
export function signChange(
  f: (x: number) => number,
  from: number,
  to: number,
  atFrom: number,
  atTo: number,
): number {
  let [left, right, low, high] = [from, to, atFrom, atTo];
  let side = 0;
  for (let count = 0; count < SECANTS && right - left > 1e-11; count++) {
    const x = (left * high - right * low) / (high - low);
    const value = f(x);
    if (Math.abs(value) < 1e-12) return x;
    if (value > 0 === low > 0) {
      [left, low] = [x, value];
      if (side === -1) high /= 2;
      side = -1;
    } else {
      [right, high] = [x, value];
      if (side === 1) low /= 2;
      side = 1;
    }
  }
  return (left + right) / 2;
}

/** ∫ f over [from, to] (rad) where f is as smooth as a source's light over an angle, by panels of fixed order. */
export function integrateSmooth(f: (x: number) => number, from: number, to: number): number {
  const count = Math.max(1, Math.ceil((to - from) / PANEL_RAD));
  const half = (to - from) / (2 * count);
  let sum = 0;
  for (let panel = 0; panel < count; panel++) {
    const middle = from + (2 * panel + 1) * half;
    for (let index = 0; index < PANEL.nodes.length; index++)
      sum += PANEL.weights[index]! * f(middle + half * PANEL.nodes[index]!);
  }
  return sum * half;
}
