import { foldDerivatives, layOut } from './graded-stack.ts';
import { type IndexJacobian, indexJacobian } from './index-jacobian.ts';
import { type Polarization, requireIncidence, type StackOnGrid } from './stack-on-grid.ts';

/** Derivatives with respect to n and k of every layer, each [wavelength * layerCount + layer]. */
export type IndexDerivatives = IndexJacobian['derivative'];

/**
 * How R and T change with the index of each layer, everything else held (`indexJacobian`); a graded layer's index changes
 * as a whole. A material that makes several layers has the sum of theirs.
 * @throws InputError where the stack, the angle or a thickness is not legal.
 */
export function indexDerivatives(
  stack: StackOnGrid,
  thicknessNm: Float64Array,
  incidenceRad: number,
  polarization: Polarization,
): IndexDerivatives {
  requireIncidence('incidenceRad', incidenceRad);
  const { graded, sublayerNm } = layOut(stack, thicknessNm);
  const { derivative } = indexJacobian(graded.stack, sublayerNm, incidenceRad, polarization);
  const byLayer = (bySublayer: Float64Array) => {
    const folded = new Float64Array(stack.wavelengthNm.length * stack.layers.length);
    foldDerivatives(graded, bySublayer, folded, true);
    return folded;
  };
  const { R, T } = derivative;
  return { R: { n: byLayer(R.n), k: byLayer(R.k) }, T: { n: byLayer(T.n), k: byLayer(T.k) } };
}
