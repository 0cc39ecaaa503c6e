import { type CoatedSurface, type IndexFunction, rememberIndex } from '../design/coated-surface.ts';
import { gradedIndex } from '../materials/grading.ts';
import { type IndexSpec, resolveIndex } from '../materials/index-spec.ts';
import type { LayerRequest, StackRequest } from './shapes.ts';

/**
 * A request's stack as the design library takes it; equal materials share one function.
 * @param shortestNm of the wavelengths that it is for.
 */
export function surfaceOfRequest(
  { incident, layers, substrate, plate }: StackRequest,
  shortestNm: number,
): CoatedSurface {
  const known = new Map<string, IndexFunction>();
  const indexOf = (spec: IndexSpec): IndexFunction => {
    const key = JSON.stringify(spec);
    const index = known.get(key) ?? rememberIndex((wavelengthNm) => resolveIndex(spec, wavelengthNm));
    known.set(key, index);
    return index;
  };
  const coated = (list: readonly LayerRequest[], path: string) =>
    list.map(({ material, thicknessNm, grading }, i) => ({
      index: gradedIndex(indexOf(material), grading, thicknessNm, shortestNm, `${path}[${i}].grading`),
      thicknessNm,
    }));
  return {
    incident: indexOf(incident),
    layers: coated(layers, 'layers'),
    substrate: indexOf(substrate),
    ...(plate === undefined
      ? {}
      : {
          plate: {
            thicknessMm: plate.thicknessMm,
            backLayers: coated(plate.backLayers, 'plate.backLayers'),
            exit: indexOf(plate.exit ?? incident),
          },
        }),
  };
}
