import type { SearchProblem } from './search-problem.ts';
import type { Sketch } from './tidy.ts';

const SAMPLES = 64;
/** Stacks nearer to one another than this, in the mean difference of their index, are of one kind. */
const APART = 0.08;

/** Whether two stacks are of one kind: their index runs alike from the outside in, whatever makes it. */
export function looksLike(
  { paletteIndex, substrateIndex }: Pick<SearchProblem, 'paletteIndex' | 'substrateIndex'>,
  one: Sketch,
  other: Sketch,
): boolean {
  return profileDistance(one, other, paletteIndex, substrateIndex) < APART;
}

/**
 * How far two stacks are apart: the mean difference of their index over the depth, counted from the outside in, to the
 * bottom of the thicker one; below the other there is its substrate. 0 for equal stacks.
 */
export function profileDistance(
  one: Sketch,
  other: Sketch,
  paletteIndex: readonly number[],
  substrateIndex: number,
): number {
  const depth = Math.max(totalNm(one), totalNm(other));
  const [first, second] = [one, other].map((sketch) => profile(sketch, depth, paletteIndex, substrateIndex));
  let sum = 0;
  for (let i = 0; i < SAMPLES; i++) sum += Math.abs(first![i]! - second![i]!);
  return sum / SAMPLES;
}

function totalNm({ thicknessNm }: Sketch): number {
  return thicknessNm.reduce((sum, nm) => sum + nm, 0);
}

function profile(
  { materials, thicknessNm }: Sketch,
  depth: number,
  paletteIndex: readonly number[],
  substrateIndex: number,
): Float64Array {
  const index = new Float64Array(SAMPLES).fill(substrateIndex);
  let layer = materials.length - 1;
  let bottom = layer >= 0 ? thicknessNm[layer]! : 0;
  for (let i = 0; i < SAMPLES; i++) {
    const at = ((i + 0.5) * depth) / SAMPLES;
    while (layer >= 0 && at > bottom) {
      layer--;
      if (layer >= 0) bottom += thicknessNm[layer]!;
    }
    if (layer < 0) break;
    index[i] = paletteIndex[materials[layer]!]!;
  }
  return index;
}
