import type { Sketch } from './tidy.ts';

const SAMPLES = 64;

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
