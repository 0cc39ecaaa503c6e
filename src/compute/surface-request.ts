import { type CoatedSurface, type IndexFunction, rememberIndex } from '../design/coated-surface.ts';
import { type IndexSpec, resolveIndex } from '../materials/index-spec.ts';
import type { LayerRequest, StackRequest } from './shapes.ts';

/** A request's stack as the design library takes it; equal materials share one function. */
export function surfaceOfRequest({ incident, layers, substrate, plate }: StackRequest): CoatedSurface {
  const known = new Map<string, IndexFunction>();
  const indexOf = (spec: IndexSpec): IndexFunction => {
    const key = JSON.stringify(spec);
    const index = known.get(key) ?? rememberIndex((wavelengthNm) => resolveIndex(spec, wavelengthNm));
    known.set(key, index);
    return index;
  };
  const coated = (list: readonly LayerRequest[]) =>
    list.map(({ material, thicknessNm }) => ({ index: indexOf(material), thicknessNm }));
  return {
    incident: indexOf(incident),
    layers: coated(layers),
    substrate: indexOf(substrate),
    ...(plate === undefined
      ? {}
      : {
          plate: {
            thicknessMm: plate.thicknessMm,
            backLayers: coated(plate.backLayers),
            exit: indexOf(plate.exit ?? incident),
          },
        }),
  };
}
