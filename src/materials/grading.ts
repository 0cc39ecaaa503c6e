import { InputError, requireWithin } from '../base/errors.ts';
import type { IndexSpec, IndexVariant } from './index-spec.ts';

/** A layer whose index changes linearly from its first nanometre to its last. */
export interface Grading {
  /** Factor on n where the layer begins, on the substrate's side. */
  readonly firstScale: number;
  /** Factor on n where it ends. */
  readonly lastScale: number;
  /** Steps that stand for the slope; the error of the spectrum falls with their square. */
  readonly sublayers?: number;
}

/** Sublayers where nothing else is said: R is right to about 1e-4 for a change of 7 % over two half waves. */
export const USUAL_SUBLAYERS = 10;

/**
 * The sublayers that stand for a graded layer, in the order of deposition, each of the index at its middle.
 * Films that grow in columns (zirconium dioxide) lose index as they thicken: `lastScale` below `firstScale`.
 * @param thicknessNm of the whole layer, at least 0.
 * @throws InputError where a factor is outside 0.5..2 or the number of sublayers outside 1..200.
 */
export function gradedSublayers(
  material: IndexSpec,
  thicknessNm: number,
  { firstScale, lastScale, sublayers = USUAL_SUBLAYERS }: Grading,
): { material: IndexVariant; thicknessNm: number }[] {
  requireWithin('thicknessNm', thicknessNm, 'nm', { min: 0, max: 1e7 });
  requireWithin('firstScale', firstScale, '', { min: 0.5, max: 2 });
  requireWithin('lastScale', lastScale, '', { min: 0.5, max: 2 });
  requireWithin('sublayers', sublayers, '', { min: 1, max: 200 });
  if (!Number.isInteger(sublayers)) throw new InputError('sublayers', `${sublayers} is not a whole number`);
  const base: IndexVariant =
    typeof material === 'object' && 'variantOf' in material
      ? material
      : { variantOf: material, indexScale: 1, addedK: 0 };
  return Array.from({ length: sublayers }, (_, i) => {
    const scale = firstScale + ((lastScale - firstScale) * (i + 0.5)) / sublayers;
    return {
      material: { ...base, indexScale: base.indexScale * scale },
      thicknessNm: thicknessNm / sublayers,
    };
  });
}
