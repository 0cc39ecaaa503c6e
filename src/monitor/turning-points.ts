import type { WitnessLight } from './witness-light.ts';

export interface TurningPoint {
  readonly thicknessNm: number;
  readonly level: number;
}

/** The signal of a growing film: its level and slope, and the largest wave number in it, rad/nm, as `WitnessLight` has them. */
export type GrowingSignal = Pick<WitnessLight, 'level' | 'slope' | 'largestWaveNumber'>;

/** Points a quarter wave in which the slope's sign is looked at. */
const SCAN = 16;
const MAX_SCAN = 200_000;
/** A turn at the very end is told from one beyond it by this share of the layer. */
const EDGE = 1e-9;
/** A turn nearer to the start than this share of the layer is the start itself: light starts level on bare glass. */
const LEAST_TURN = 1e-4;
/** A signal whose steepest slope, all through the layer, would not raise it by this is flat but for rounding. */
const LEAST_RISE = 1e-13;
/** A root is found where the next step would be less than two roundings; the usual one takes 3 to 10 steps. */
const LAST_DIGITS = 4e-16;
const MOST_STEPS = 60;

/**
 * Where the signal of a growing film turns, from after its start to `endNm` (thickness on the witness, nm): the
 * zeros of the exact slope, bracketed on a sixteenth of a quarter wave and refined by regula falsi with
 * Illinois's step (Dowell & Jarratt, BIT 11, 168, 1971) to the last digits. A turn at the end itself counts, one at
 * the start (where a film on bare glass begins) does not.
 */
export function turningPoints(light: GrowingSignal, endNm: number): TurningPoint[] {
  const largest = light.largestWaveNumber();
  const steps = Math.min(MAX_SCAN, Math.max(SCAN, Math.ceil((endNm * largest * SCAN * 2) / Math.PI)));
  // A little beyond the end, so that a turn at the end itself is bracketed.
  const beyond = endNm * (1 + EDGE);
  const slope = (nm: number) => light.slope(nm);
  if (isFlat(slope, beyond, steps)) return [];
  // At a start that is itself a turn the slope is zero but for rounding: its sign comes from a little further on.
  let left = endNm * Math.min(LEAST_TURN, 0.1 / steps);
  let leftSlope = slope(left);
  const found: TurningPoint[] = [];
  for (let i = 1; i <= steps; i++) {
    const right = i === steps ? beyond : (endNm * i) / steps;
    const rightSlope = slope(right);
    // A slope of exactly zero tells nothing: the next one does, or it has died away in an absorbing film.
    if (rightSlope === 0) continue;
    if (Math.sign(leftSlope) === -Math.sign(rightSlope)) {
      const thicknessNm = Math.min(endNm, rootBetween(slope, left, right, leftSlope, rightSlope));
      found.push({ thicknessNm, level: light.level(thicknessNm) });
    }
    left = right;
    leftSlope = rightSlope;
  }
  return found;
}

/** Whether the slopes over the scan are rounding alone: a flat signal (no index step) turns nowhere. */
function isFlat(slope: (nm: number) => number, endNm: number, steps: number): boolean {
  for (let i = 1; i < steps; i++)
    if (Math.abs(slope((endNm * i) / steps)) * endNm >= LEAST_RISE) return false;
  return true;
}

function rootBetween(
  f: (x: number) => number,
  left: number,
  right: number,
  leftValue: number,
  rightValue: number,
): number {
  let [a, b, fa, fb] = [left, right, leftValue, rightValue];
  for (let i = 0; i < MOST_STEPS; i++) {
    const x = b - (fb * (b - a)) / (fb - fa);
    if (Math.abs(x - b) <= LAST_DIGITS * b) break;
    const fx = f(x);
    if (Math.sign(fx) === -Math.sign(fb)) {
      a = b;
      fa = fb;
    } else fa /= 2;
    b = x;
    fb = fx;
  }
  return b;
}
