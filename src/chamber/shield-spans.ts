import { RAD_PER_DEG } from '../base/constants.ts';
import { signChange } from '../math/integrate-spans.ts';
import type { Element } from './element.ts';
import type { ShieldShape } from './shield.ts';
import type { VapourSource } from './vapour-source.ts';

/** Where on one turn an element's ray to the source meets a sheet. */
export interface ShadowSpans {
  /** Begin and end of every stretch, one after the other, as the element's azimuth against the source's, rad. */
  readonly turns: readonly number[];
  /** By which borders of the sheet the stretches begin and end, two digits for each: 1 inner end, 2 outer end, 3 a side. */
  readonly borders: string;
}

const NOTHING: ShadowSpans = { turns: [], borders: '' };

/** The sheet's borders as `ShadowSpans` writes them. */
const INNER = '1';
const OUTER = '2';
const SIDE = '3';

/** Samples of the sheet's side over each rad of it, and the fewest of a stretch. */
const SAMPLES_PER_RAD = 8;
const FEWEST_SAMPLES = 3;

/**
 * Where an element that goes once round the chamber's axis has its ray to the source through the sheet.
 *
 * The ray crosses the sheet's level at S + t (P − S): seen from the axis a fixed arm (1 − t) s towards the source and an arm
 * t r that turns with the element. While the turning arm is the longer one, the crossing's own azimuth α grows with the turn,
 * and its radius, (1 − t) s cos α + sqrt(t² r² − (1 − t)² s² sin² α), falls from α = 0 to π. So the ends of the sheet bound
 * α in closed form (law of cosines); its sides are sought between these, and the turn follows from α by the law of sines.
 * @returns undefined where the fixed arm is the longer one.
 */
export function shadowSpans(
  shape: ShieldShape,
  source: VapourSource,
  element: Element,
): ShadowSpans | undefined {
  const sourceZ = source.heightMm ?? 0;
  const part = (shape.height - sourceZ) / (element.z - sourceZ);
  if (!(part > 0 && part < 1)) return NOTHING;
  const fixed = (1 - part) * source.offsetMm;
  const turning = part * Math.hypot(element.x, element.y);
  if (!(turning > 1.001 * fixed)) return undefined;
  const middle = shape.middle - (source.azimuthDeg ?? 0) * RAD_PER_DEG;
  const squared = turning * turning;
  /** How far the crossing lies inside the sheet's sides. */
  const depth = (alpha: number) => {
    const aside = fixed * Math.sin(alpha);
    const radius = fixed * Math.cos(alpha) + Math.sqrt(squared - aside * aside);
    return shape.halfAngleAt(radius) - Math.abs(alpha - middle);
  };
  const crossings: Crossings = { alphas: [], borders: '' };
  const [left, right] = [middle - shape.widest, middle + shape.widest];
  const add = (from: number, to: number, begins: string, ends: string) =>
    addDeepParts(crossings, depth, middle, Math.max(from, left), Math.min(to, right), begins, ends);
  const outer = azimuthOfRadius(shape.outer, fixed, turning);
  const inner = azimuthOfRadius(shape.inner, fixed, turning);
  if (outer === 0 && inner === Math.PI) add(left, right, SIDE, SIDE);
  else if (inner > outer) {
    const turns = Math.round(middle / (2 * Math.PI));
    for (let turn = turns - 1; turn <= turns + 1; turn++) {
      const at = 2 * Math.PI * turn;
      if (outer === 0) add(at - inner, at + inner, INNER, INNER);
      else if (inner === Math.PI) add(at + outer, at + 2 * Math.PI - outer, OUTER, OUTER);
      else {
        add(at - inner, at - outer, INNER, OUTER);
        add(at + outer, at + inner, OUTER, INNER);
      }
    }
  }
  const turns = crossings.alphas.map((alpha) => alpha + Math.asin((fixed * Math.sin(alpha)) / turning));
  return { turns, borders: crossings.borders };
}

/** Begin and end of stretches of α, with their borders. */
interface Crossings {
  readonly alphas: number[];
  borders: string;
}

/** The α, 0 to π, at which the crossing is so far from the axis: nearer ones lie farther out. */
function azimuthOfRadius(radius: number, fixed: number, turning: number): number {
  if (fixed === 0) return radius >= turning ? 0 : Math.PI;
  const cosine = (radius * radius + fixed * fixed - turning * turning) / (2 * radius * fixed);
  return Math.acos(Math.max(-1, Math.min(1, cosine)));
}

/** Adds the parts of a stretch where `depth`, which has a kink at `middle`, is positive. */
function addDeepParts(
  crossings: Crossings,
  depth: (alpha: number) => number,
  middle: number,
  from: number,
  to: number,
  begins: string,
  ends: string,
): void {
  const { alphas } = crossings;
  let left = from;
  let before = depth(from);
  if (before > 0) {
    alphas.push(from);
    crossings.borders += begins;
  }
  while (left < to) {
    const stop = left < middle ? Math.min(to, middle) : to;
    const samples = Math.max(FEWEST_SAMPLES, Math.ceil((stop - left) * SAMPLES_PER_RAD));
    const step = (stop - left) / samples;
    for (let index = 1; index <= samples; index++) {
      const right = index === samples ? stop : left + step;
      const value = depth(right);
      if (value > 0 !== before > 0) {
        alphas.push(signChange(depth, left, right, before, value));
        crossings.borders += SIDE;
      }
      left = right;
      before = value;
    }
  }
  if (before > 0) {
    alphas.push(to);
    crossings.borders += ends;
  }
}
