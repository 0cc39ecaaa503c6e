import { integrate } from './integrate.ts';

/** Halvings of the gap between two samples that hold a zero: to the last bit. */
const HALVINGS = 60;
/** Steps of the search for an extremum that dips through zero between samples. */
const DIPS = 24;
const SAMPLES_PER_PANEL = 12;

/**
 * ∫ f over those parts of [from, to] where `clearance` is positive; both are smooth there, and clearance is
 * continuous everywhere. Its zeros are bracketed by equal samples, and between two of them also where a parabola
 * says that it may dip through zero and back.
 * @param samples more than a handful for every wave of `clearance`.
 */
export function integrateWhere(
  f: (x: number) => number,
  clearance: (x: number) => number,
  from: number,
  to: number,
  samples: number,
  tolerance: number,
): number {
  const ends = [from, ...zeros(clearance, from, to, samples), to];
  let sum = 0;
  for (let index = 1; index < ends.length; index++) {
    const left = ends[index - 1]!;
    const right = ends[index]!;
    if (right <= left || clearance((left + right) / 2) <= 0) continue;
    const panels = Math.ceil(((right - left) / (to - from)) * (samples / SAMPLES_PER_PANEL));
    sum += integrate(f, left, right, tolerance, Math.max(1, panels));
  }
  return sum;
}

/** The places where a continuous function changes its sign, in rising order. */
function zeros(f: (x: number) => number, from: number, to: number, samples: number): number[] {
  const step = (to - from) / samples;
  const values = Array.from({ length: samples + 1 }, (_, index) => f(from + index * step));
  const found: number[] = [];
  for (let index = 0; index < samples; index++) {
    const x = from + index * step;
    const [before, left, right] = [values[index - 1], values[index]!, values[index + 1]!];
    if (before !== undefined) {
      const turn = dip(f, x, step, before, left, right);
      if (turn !== undefined) {
        found.push(zeroBetween(f, x - step, turn, before), zeroBetween(f, turn, x + step, f(turn)));
      }
    }
    if (left > 0 !== right > 0) found.push(zeroBetween(f, x, x + step, left));
  }
  return found.sort((a, b) => a - b);
}

/**
 * Where three samples of one sign turn towards zero and the parabola through them comes near it: a place beyond
 * zero, if there is one.
 */
function dip(
  f: (x: number) => number,
  x: number,
  step: number,
  before: number,
  at: number,
  after: number,
): number | undefined {
  const sign = at > 0 ? 1 : -1;
  if (before > 0 !== at > 0 || after > 0 !== at > 0) return undefined;
  if (sign * (before - at) < 0 || sign * (after - at) <= 0) return undefined;
  const bend = before - 2 * at + after;
  const depth = at - (before - after) ** 2 / (8 * bend);
  if (sign * depth > 0.25 * Math.abs(bend)) return undefined;
  let left = x - step;
  let right = x + step;
  for (let count = 0; count < DIPS; count++) {
    const first = left + (right - left) * 0.381966;
    const second = left + (right - left) * 0.618034;
    const [one, two] = [sign * f(first), sign * f(second)];
    if (one <= 0) return first;
    if (two <= 0) return second;
    if (one < two) right = second;
    else left = first;
  }
  return undefined;
}

/** Bisection, steered by the secant where that halves the gap faster (regula falsi, Illinois rule). */
function zeroBetween(f: (x: number) => number, from: number, to: number, atFrom: number): number {
  let [left, right] = [from, to];
  let [low, high] = [atFrom, f(to)];
  let side = 0;
  for (let count = 0; count < HALVINGS; count++) {
    const steered = (left * high - right * low) / (high - low);
    const middle = count % 4 !== 3 && steered > left && steered < right ? steered : left + (right - left) / 2;
    if (middle <= left || middle >= right) break;
    const value = f(middle);
    if (value > 0 === low > 0) {
      left = middle;
      low = value;
      if (side === -1) high /= 2;
      side = -1;
    } else {
      right = middle;
      high = value;
      if (side === 1) low /= 2;
      side = 1;
    }
    if (right - left < 1e-14 * Math.max(Math.abs(from), Math.abs(to), 1) || value === 0) return middle;
  }
  return (left + right) / 2;
}
