import type { Random } from '../../math/random.ts';
import type { Draft, SearchProblem } from './search-problem.ts';
import { materialCount, type Sketch, tidy, withInsertion, withoutLayer } from './tidy.ts';

/**
 * Thicknesses of random layers reach up to a share of a half wave at the reference wavelength that each stack draws between
 * these: some of the best stacks have layers that are a little thicker than a half wave.
 */
const RANDOM_REACH = { least: 0.6, most: 1.2 } as const;

/** A stack of `layers` random layers; the outermost one is of low index in most of them. */
export function randomSketch(problem: SearchProblem, layers: number, random: Random): Sketch {
  const pool = pickPool(problem, random);
  const low = pool.reduce((best, one) => (indexOf(problem, one) < indexOf(problem, best) ? one : best));
  const materials: number[] = [];
  const thicknessNm = new Float64Array(layers);
  const reach = RANDOM_REACH.least + random.uniform() * (RANDOM_REACH.most - RANDOM_REACH.least);
  for (let layer = layers - 1; layer >= 0; layer--) {
    const above = materials[0];
    const others = pool.filter((one) => one !== above);
    const isOuter = layer === layers - 1;
    const material =
      isOuter && random.uniform() < 0.9 ? low : (others[random.integer(others.length || 1)] ?? pool[0]!);
    materials.unshift(material);
    thicknessNm[layer] = randomThickness(problem, material, random, reach);
  }
  return tidy({ materials, thicknessNm });
}

function randomThickness(problem: SearchProblem, material: number, random: Random, reach: number): number {
  const half = problem.referenceNm / (2 * indexOf(problem, material));
  const most = Math.min(problem.maxNm, reach * half);
  return problem.minNm + random.uniform() * Math.max(0, most - problem.minNm);
}

/** The materials that one start works with: all, or a random choice of as many as there are pockets. */
export function pickPool(problem: SearchProblem, random: Random): number[] {
  const all = Array.from({ length: problem.poolSize }, (_, place) => place);
  return problem.maxMaterials >= all.length ? all : random.shuffle(all).slice(0, problem.maxMaterials);
}

function indexOf(problem: SearchProblem, material: number): number {
  return problem.paletteIndex[material]!;
}

type Move = (problem: SearchProblem, from: Sketch, random: Random, other: Sketch) => Sketch;

/** Another material for one layer at the same optical thickness. */
const exchange: Move = (problem, from, random) => {
  const layer = random.integer(from.materials.length);
  const own = from.materials[layer]!;
  const material = random.integer(problem.poolSize);
  const thicknessNm = from.thicknessNm.slice();
  thicknessNm[layer] = (thicknessNm[layer]! * indexOf(problem, own)) / indexOf(problem, material);
  return tidy({ materials: from.materials.with(layer, material), thicknessNm });
};

/** All thicknesses shaken by factors around 1. */
const shake: Move = (_problem, from, random) => {
  const sigma = 0.03 * 20 ** random.uniform();
  return {
    materials: from.materials,
    thicknessNm: from.thicknessNm.map((nm) => nm * Math.exp(sigma * random.normal())),
  };
};

/** A new layer anywhere. */
const insert: Move = (problem, from, random) => {
  const host = random.integer(from.materials.length);
  const share = random.uniform() < 0.4 ? random.integer(2) : 0.15 + 0.7 * random.uniform();
  const material = random.integer(problem.poolSize);
  return withInsertion(from, host, share, material, randomThickness(problem, material, random, 0.48));
};

/** One layer gone, a thin one rather than a thick one. */
const remove: Move = (_problem, from, random) => {
  const one = random.integer(from.materials.length);
  const two = random.integer(from.materials.length);
  return withoutLayer(from, from.thicknessNm[one]! < from.thicknessNm[two]! ? one : two);
};

/** One layer gone and a new one elsewhere. */
const relocate: Move = (problem, from, random, other) => {
  const less = remove(problem, from, random, other);
  return less.materials.length > 0 ? insert(problem, less, random, other) : less;
};

/** The lower part of one stack under the upper part of another, cut at like depths. */
const cross: Move = (_problem, from, random, other) => {
  const cut = random.integer(from.materials.length + 1);
  const otherCut = Math.min(
    other.materials.length,
    Math.max(0, cut + other.materials.length - from.materials.length),
  );
  return tidy({
    materials: [...from.materials.slice(0, cut), ...other.materials.slice(otherCut)],
    thicknessNm: Float64Array.of(
      ...from.thicknessNm.subarray(0, cut),
      ...other.thicknessNm.subarray(otherCut),
    ),
  });
};

/** Two neighbours change places, or only their materials do, at the thicknesses that stood there. */
const swap: Move = (_problem, from, random) => {
  if (from.materials.length < 2) return from;
  const lower = random.integer(from.materials.length - 1);
  const materials = [...from.materials];
  const thicknessNm = from.thicknessNm.slice();
  [materials[lower], materials[lower + 1]] = [materials[lower + 1]!, materials[lower]!];
  if (random.uniform() < 0.5)
    [thicknessNm[lower], thicknessNm[lower + 1]] = [thicknessNm[lower + 1]!, thicknessNm[lower]!];
  return tidy({ materials, thicknessNm });
};

/** A half wave more or less on one layer. */
const halfWave: Move = (problem, from, random) => {
  const layer = random.integer(from.materials.length);
  const half = problem.referenceNm / (2 * indexOf(problem, from.materials[layer]!));
  const thicknessNm = from.thicknessNm.slice();
  thicknessNm[layer] = thicknessNm[layer]! > half ? thicknessNm[layer]! - half : thicknessNm[layer]! + half;
  return { materials: from.materials, thicknessNm };
};

const MOVES: readonly (readonly [weight: number, move: Move])[] = [
  [3, exchange],
  [3, shake],
  [2, insert],
  [1, remove],
  [4, relocate],
  [1.5, cross],
  [2, swap],
  [0.5, halfWave],
];

function pickMove(random: Random): Move {
  let draw = random.uniform() * MOVES.reduce((sum, [weight]) => sum + weight, 0);
  for (const [weight, move] of MOVES) {
    draw -= weight;
    if (draw < 0) return move;
  }
  return shake;
}

/** How often a change is made of two moves: some better stacks have none but worse ones beside them. */
const SECOND_MOVE = 0.15;

/** A random change of a stack that keeps within layers and pockets; `mate` lends its upper part to a crossing. */
export function mutate(problem: SearchProblem, from: Draft, mate: Draft, random: Random): Sketch {
  for (let attempt = 0; attempt < 20; attempt++) {
    let sketch = pickMove(random)(problem, from, random, mate);
    if (random.uniform() < SECOND_MOVE && sketch.materials.length > 0)
      sketch = pickMove(random)(problem, sketch, random, mate);
    if (isWithin(problem, sketch)) return sketch;
  }
  return shake(problem, from, random, mate);
}

/** Whether a stack keeps within the number of layers and materials, and has any. */
export function isWithin(problem: SearchProblem, { materials }: Sketch): boolean {
  return (
    materials.length > 0 &&
    materials.length <= problem.maxLayers &&
    materialCount(materials) <= problem.maxMaterials
  );
}
