import type { Light } from './front-light.ts';
import { layOut } from './graded-stack.ts';
import { indexJacobian } from './index-jacobian.ts';
import type { Medium } from './medium.ts';
import { addSecondSurface, turnedStack } from './plate.ts';
import type { Part } from './polarized-light.ts';
import { type Polarization, requireIncidence, type StackOnGrid } from './stack-on-grid.ts';

/** How one layer's complex index changes along a direction, per unit of the way. */
export interface IndexChange {
  readonly layer: number;
  /** Change of n and of k (0 where left out), one a wavelength. */
  readonly n: Float64Array;
  readonly k?: Float64Array;
  /** Factor on the change in each sublayer of a graded layer; left out: that on its index. */
  readonly profile?: Float64Array;
}

/** Changes of several layers at once; what they have in common, such as a factor on the index of a material. */
export type IndexDirection = readonly IndexChange[];

/**
 * R and T of a surface or plate at one angle and polarization, with their exact derivatives along directions in which
 * indices change: a column of `derivative` each, [wavelength * directions + direction].
 * @param thicknessNm that of the front's layers. Directions are those of the front's layers too.
 * @throws InputError where the part, the angle or a thickness is not legal.
 */
export function lightAlong(
  { stack, plate }: Part,
  thicknessNm: Float64Array,
  incidenceRad: number,
  polarization: Polarization,
  directions: readonly IndexDirection[],
): Light {
  requireIncidence('incidenceRad', incidenceRad);
  const front = surfaceAlong(stack, thicknessNm, incidenceRad, polarization, directions);
  if (plate === undefined) return front;
  const { incident, layers } = stack;
  const inner = surfaceAlong(
    turnedStack(stack, layers, incident),
    thicknessNm.toReversed(),
    incidenceRad,
    polarization,
    directions.map((direction) => direction.map((change) => turnedChange(change, layers.length))),
    incident,
  );
  return addSecondSurface(front, inner, stack, plate, incidenceRad, polarization);
}

function turnedChange({ layer, profile, ...change }: IndexChange, layerCount: number): IndexChange {
  return {
    ...change,
    layer: layerCount - 1 - layer,
    ...(profile === undefined ? {} : { profile: profile.toReversed() }),
  };
}

function surfaceAlong(
  stack: StackOnGrid,
  thicknessNm: Float64Array,
  incidenceRad: number,
  polarization: Polarization,
  directions: readonly IndexDirection[],
  angleIn?: Medium,
): Light {
  const { graded, sublayerNm } = layOut(stack, thicknessNm, angleIn);
  const { R, T, derivative } = indexJacobian(graded.stack, sublayerNm, incidenceRad, polarization, angleIn);
  const sublayerCount = graded.factor.length;
  const columns = () => new Float64Array(R.length * directions.length);
  const along = { R: columns(), T: columns() };
  for (const [column, direction] of directions.entries())
    for (const { layer, n, k, profile } of direction) {
      const [from, to] = [graded.firstOf[layer]!, graded.firstOf[layer + 1]!];
      for (let i = from; i < to; i++) {
        const share = profile === undefined ? graded.factor[i]! : profile[i - from]!;
        for (let w = 0; w < R.length; w++) {
          const [here, out] = [w * sublayerCount + i, w * directions.length + column];
          const [byN, byK] = [share * n[w]!, share * (k?.[w] ?? 0)];
          along.R[out]! += byN * derivative.R.n[here]! + byK * derivative.R.k[here]!;
          along.T[out]! += byN * derivative.T.n[here]! + byK * derivative.T.k[here]!;
        }
      }
    }
  return { R, T, derivative: along };
}
