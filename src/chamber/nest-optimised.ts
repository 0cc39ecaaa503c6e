import { Lbfgs } from '../math/lbfgs.ts';
import { Random } from '../math/random.ts';
import { MOST_KNOWN_CENTRES, mostKnown, roughCentres } from './best-packings.ts';
import { Overlap } from './overlap.ts';
import type { Disc, Point } from './place.ts';

export interface PackOptions {
  readonly seed: number;
  /** Relaxations allowed. */
  readonly tries: number;
  /** Arrangements to begin from; places that are missing are thrown in at random. */
  readonly starts?: readonly (readonly Point[])[];
}

/** Squared overlap, in spacings, below which places fit but for rounding. */
const GOAL = 1e-24;
/** Below this it is worth settling an arrangement to the last digit. */
const NEARLY = 1e-6;
const SETTLE = { iterations: 3000, stall: 1e-4 };
/** For arrangements that are known to fit, however tightly. */
const SETTLE_LONG = { iterations: 20_000, stall: 1e-6 };
const ITERATIONS = 400;
/** Moves without gain after which a new start is made. */
const PATIENCE = 60;
const VACANCY_SAMPLES = 300;

/**
 * The most places that optimised placement finds, if more than `atLeast`. Where the best-known packing of a free
 * round rack is on record it is the goal, relaxed from its rough centres; one place less is nearly always easy. Else
 * places are added to the best so far, one at a time, until that fails.
 * @param simple the places of simple patterns, from which to begin.
 */
export function nestOptimised(
  disc: Disc,
  simple: readonly (readonly Point[])[],
  seed: number,
): Point[] | undefined {
  const most = mostKnown(disc.spacing / 2 / (disc.reach + disc.spacing / 2)) ?? Number.POSITIVE_INFINITY;
  const least = Math.max(...simple.map((points) => points.length));
  if (disc.zones.length === 0 && most <= MOST_KNOWN_CENTRES) {
    for (let count = most; count > least; count--) {
      const scale = disc.reach + disc.spacing / 2;
      const rough = roughCentres(count)?.map(({ x, y }) => ({ x: x * scale, y: y * scale })) ?? [];
      const found = packCircles(disc, count, { seed, tries: 40, starts: [rough, ...simple] });
      if (found !== undefined) return found;
    }
    return undefined;
  }
  if (least > MOST_OPTIMISED) return undefined;
  let best: Point[] | undefined;
  for (let count = least + 1; count <= most; count++) {
    const tries = Math.ceil(TRIES_OF_FIFTY * Math.min(4, 50 / count));
    const starts = best === undefined ? simple : [best];
    const found = packCircles(disc, count, { seed, tries, starts });
    if (found === undefined) return best;
    best = found;
  }
  return best;
}

/** Relaxations for one more place among fifty; fewer where each takes longer. */
const TRIES_OF_FIFTY = 400;
/** Above this count the straight rows are so good that searching on does not pay. */
const MOST_OPTIMISED = 250;

/**
 * Tries to place `count` parts: their overlap is brought down from many starts, and from each arrangement on by
 * moving the worst-placed part into the widest gap (the quasi-physical way of W. Q. Huang & T. Ye, Oper. Res.
 * Lett. 38, 378-382, 2010, from memory). Returns the places or `undefined` where the tries ran out.
 */
export function packCircles(
  disc: Disc,
  count: number,
  { seed, tries, starts = [] }: PackOptions,
): Point[] | undefined {
  const random = new Random(seed).stream(count);
  const overlap = new Overlap(disc, count);
  const minimiser = new Lbfgs(2 * count);
  const relax = (x: Float64Array) =>
    minimiser.minimise(overlap.value, x, { iterations: ITERATIONS, goal: GOAL, stall: 0.02 });
  const settles = (x: Float64Array, value: number, long: boolean) =>
    value < NEARLY &&
    minimiser.minimise(overlap.value, x, long ? { ...SETTLE_LONG, goal: GOAL } : { ...SETTLE, goal: GOAL }) <=
      GOAL;
  let left = tries;
  const trial = new Float64Array(2 * count);
  const pains = new Float64Array(count);
  for (let round = 0; left > 0; round++) {
    const given = starts[round];
    const x = start(disc, count, given, random);
    let value = relax(x);
    left--;
    if (settles(x, value, given?.length === count)) return pointsOf(x, disc.spacing);
    for (let idle = 0; idle < PATIENCE && left > 0; idle++) {
      trial.set(x);
      move(overlap, trial, pains, disc.reach / disc.spacing, random);
      const after = relax(trial);
      left--;
      if (after >= value) continue;
      if (after < 0.999 * value) idle = -1;
      value = after;
      x.set(trial);
      if (settles(x, value, false)) return pointsOf(x, disc.spacing);
    }
  }
  return undefined;
}

function start(disc: Disc, count: number, from: readonly Point[] | undefined, random: Random): Float64Array {
  const x = new Float64Array(2 * count);
  const reach = disc.reach / disc.spacing;
  for (let place = 0; place < count; place++) {
    const given = from?.[place];
    const thrown = pointInDisc(random);
    x[2 * place] = given === undefined ? reach * thrown.x : onGrid(given.x / disc.spacing);
    x[2 * place + 1] = given === undefined ? reach * thrown.y : onGrid(given.y / disc.spacing);
  }
  return x;
}

/**
 * A point of the unit disc, all equally likely. Neither here nor below are sines and cosines taken: engines differ in their last
 * bit, and a search that begins a bit apart ends with other places.
 */
function pointInDisc(random: Random): Point {
  for (;;) {
    const x = 2 * random.uniform() - 1;
    const y = 2 * random.uniform() - 1;
    if (x * x + y * y <= 1) return { x, y };
  }
}

/** To the nearest 2^-24, so that places on rings, which come from sines, begin alike in every engine. */
function onGrid(value: number): number {
  return Math.round(value * 2 ** 24) / 2 ** 24;
}

/** Moves one of the worst-placed parts into a gap, and now and then shakes all a little. */
function move(overlap: Overlap, x: Float64Array, pains: Float64Array, reach: number, random: Random): void {
  if (random.uniform() < 0.15) {
    const size = 0.1 + 0.4 * random.uniform();
    for (let i = 0; i < x.length; i++) x[i]! += size * (random.uniform() - 0.5);
    return;
  }
  overlap.pains(x, pains);
  let chosen = random.integer(pains.length);
  for (let draw = 0; draw < Math.ceil(pains.length / 3); draw++) {
    const other = random.integer(pains.length);
    if (pains[other]! > pains[chosen]!) chosen = other;
  }
  let best = Number.POSITIVE_INFINITY;
  let [bestX, bestY] = [0, 0];
  for (let sample = 0; sample < VACANCY_SAMPLES; sample++) {
    const thrown = pointInDisc(random);
    const px = reach * thrown.x;
    const py = reach * thrown.y;
    const pain = overlap.painAt(x, px, py, chosen) * (0.5 + random.uniform());
    if (pain < best) [best, bestX, bestY] = [pain, px, py];
  }
  x[2 * chosen] = bestX;
  x[2 * chosen + 1] = bestY;
}

function pointsOf(x: Float64Array, spacing: number): Point[] {
  return Array.from({ length: x.length / 2 }, (_, place) => ({
    x: x[2 * place]! * spacing,
    y: x[2 * place + 1]! * spacing,
  }));
}
