import { draftOf, type FoundStack } from './found-stack.ts';
import { looksLike } from './search/profile-distance.ts';
import type { SearchProblem } from './search/search-problem.ts';
import { materialCount } from './search/tidy.ts';

/** No instrument tells values that differ by so little, in percent; spectrometers are good for a hundred times as much. */
const UNTOLD_PERCENT = 1e-4;

/**
 * The few stacks worth comparing, in the order given (best first): one of each kind, a stack that looks like a better one
 * only where it takes fewer layers or fewer materials. Up to half of them are the plainest that meet everything: those of the
 * fewest materials and the fewest layers, which a coater may rather make than the best.
 */
export function shortList(
  stacks: readonly FoundStack[],
  most: number,
  problem: Pick<SearchProblem, 'paletteIndex' | 'substrateIndex'>,
): FoundStack[] {
  const isLike = (one: FoundStack, other: FoundStack) => looksLike(problem, draftOf(one), draftOf(other));
  const kept: FoundStack[] = [];
  for (const stack of stacks)
    if (kept.every((other) => isPlainer(stack, other) || !isLike(stack, other))) kept.push(stack);
  const plain = new Set(plainest(stacks.filter(meetsAll)).slice(0, Math.floor(most / 2)));
  const others = new Set(kept.filter((stack) => !plain.has(stack)).slice(0, most - plain.size));
  return stacks.filter((stack) => plain.has(stack) || others.has(stack));
}

/** The first with the fewest materials, then the first of each number of layers, the fewest first. */
function plainest(stacks: readonly FoundStack[]): FoundStack[] {
  const rising = (measure: (stack: FoundStack) => number) =>
    stacks.toSorted((one, other) => measure(one) - measure(other));
  const byLayers = rising(layerCount).filter(
    (stack, place, all) => place === 0 || layerCount(stack) > layerCount(all[place - 1]!),
  );
  return [...new Set([...rising(pocketCount).slice(0, 1), ...byLayers])];
}

/**
 * The same stacks with the plainest first of those that can't be told from the best by what is required of them: next to
 * nothing at a line is reached in many ways, and two layers are the ones to make.
 */
export function plainestOfEquals(stacks: readonly FoundStack[]): FoundStack[] {
  const [best] = stacks;
  if (best === undefined) return [];
  const equals = stacks.filter(({ achieved }) =>
    achieved.every(({ margin }, place) => margin >= best.achieved[place]!.margin - UNTOLD_PERCENT),
  );
  equals.sort(
    (one, other) =>
      layerCount(one) - layerCount(other) || pocketCount(one) - pocketCount(other) || one.merit - other.merit,
  );
  return [...equals, ...stacks.filter((stack) => !equals.includes(stack))];
}

/** Whether a stack meets every requirement. */
export function meetsAll({ achieved }: Pick<FoundStack, 'achieved'>): boolean {
  return achieved.every(({ met }) => met);
}

function isPlainer(one: FoundStack, other: FoundStack): boolean {
  return layerCount(one) < layerCount(other) || pocketCount(one) < pocketCount(other);
}

function layerCount({ layers }: FoundStack): number {
  return layers.length;
}

function pocketCount({ layers }: FoundStack): number {
  return materialCount(layers.map(({ place }) => place));
}
