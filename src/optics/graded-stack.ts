import type { Medium } from './medium.ts';
import { requireStack, requireThicknesses, type StackOnGrid } from './stack-on-grid.ts';

/** A stack whose graded layers are laid out as the plain sublayers that stand for them. */
export interface GradedStack {
  /** The same stack of sublayers, none of them graded. */
  readonly stack: StackOnGrid;
  /** For each layer the place of its first sublayer; one more at the end, the number of sublayers. */
  readonly firstOf: Int32Array;
  /** For each sublayer the factor on the index of its layer. */
  readonly factor: Float64Array;
}

/**
 * Lays graded layers out; undefined where there is none. Equal media share their sublayers.
 * @param transparent as `requireStack` takes it.
 * @throws InputError where a stack with graded layers is not legal.
 */
export function layOutGraded(stack: StackOnGrid, transparent?: Medium): GradedStack | undefined {
  if (stack.layers.every(({ profile }) => profile === undefined)) return undefined;
  requireStack(stack, transparent);
  return sublayersIn(stack);
}

/**
 * Lays a stack out with its thicknesses (nm), one a layer, whether a layer is graded or not.
 * @throws InputError where the stack or a thickness is not legal.
 */
export function layOut(
  stack: StackOnGrid,
  thicknessNm: Float64Array,
  transparent?: Medium,
): { readonly graded: GradedStack; readonly sublayerNm: Float64Array } {
  requireStack(stack, transparent);
  requireThicknesses(thicknessNm, stack.layers.length);
  const graded = sublayersIn(stack);
  const sublayerNm = new Float64Array(graded.factor.length);
  spreadThickness(graded, thicknessNm, sublayerNm);
  return { graded, sublayerNm };
}

function sublayersIn(stack: StackOnGrid): GradedStack {
  const known = new Map<Medium, readonly Medium[]>();
  const firstOf = new Int32Array(stack.layers.length + 1);
  const layers: Medium[] = [];
  const factor: number[] = [];
  for (const [j, medium] of stack.layers.entries()) {
    const { profile } = medium;
    const sublayers = known.get(medium) ?? sublayersOf(medium);
    known.set(medium, sublayers);
    layers.push(...sublayers);
    factor.push(...(profile ?? [1]));
    firstOf[j + 1] = layers.length;
  }
  return { stack: { ...stack, layers }, firstOf, factor: Float64Array.from(factor) };
}

function sublayersOf(medium: Medium): readonly Medium[] {
  const { n, k, profile } = medium;
  if (profile === undefined) return [medium];
  return Array.from(profile, (factor) => ({
    n: n.map((value) => factor * value),
    k: k.map((value) => factor * value),
  }));
}

/** Shares each layer's thickness (nm) out among its sublayers. */
export function spreadThickness(
  { firstOf }: GradedStack,
  thicknessNm: Float64Array,
  sublayerNm: Float64Array,
): void {
  for (let j = 0; j < thicknessNm.length; j++) {
    const [from, to] = [firstOf[j]!, firstOf[j + 1]!];
    sublayerNm.fill(thicknessNm[j]! / (to - from), from, to);
  }
}

/**
 * Sums derivatives by sublayers to those by layers, [(wavelength * count + layer) * parts + part] both; two parts are a
 * real and an imaginary one. For thicknesses each sublayer counts by its share of the layer, for the index (`byIndex`)
 * by its factor.
 */
export function foldDerivatives(
  { firstOf, factor }: GradedStack,
  bySublayer: Float64Array,
  byLayer: Float64Array,
  byIndex = false,
  parts = 1,
): void {
  const layerCount = firstOf.length - 1;
  const width = factor.length;
  for (let row = 0, out = 0; out < byLayer.length; row += width) {
    for (let j = 0; j < layerCount; j++) {
      const [from, to] = [firstOf[j]!, firstOf[j + 1]!];
      for (let part = 0; part < parts; part++, out++) {
        let sum = 0;
        for (let i = from; i < to; i++)
          sum += bySublayer[(row + i) * parts + part]! * (byIndex ? factor[i]! : 1);
        byLayer[out] = byIndex ? sum : sum / (to - from);
      }
    }
  }
}

/** The layers as light from the other side meets them: the order turned round, and each profile too. */
export function turnRound(layers: readonly Medium[]): Medium[] {
  const known = new Map<Medium, Medium>();
  return layers.toReversed().map((medium) => {
    if (medium.profile === undefined) return medium;
    const turned = known.get(medium) ?? { ...medium, profile: medium.profile.toReversed() };
    known.set(medium, turned);
    return turned;
  });
}
