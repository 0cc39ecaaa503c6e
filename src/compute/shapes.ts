import * as v from 'valibot';
import { InputError } from '../base/errors.ts';
import { list, quantity } from '../base/schema.ts';
import { gradedIndex, layerGrading } from '../materials/grading.ts';
import { type IndexSpec, indexSpec, type ResolvedIndex, resolveIndex } from '../materials/index-spec.ts';

/** One layer of a request. */
export const layerShape = v.strictObject({
  material: indexSpec,
  thicknessNm: quantity('nm', { min: 0, max: 1e7 }, 'physical thickness'),
  grading: v.exactOptional(layerGrading),
});

/** CONTRACT's LAYERS: in the order of deposition. */
export const layersShape = list(
  layerShape,
  { max: 1000 },
  'in the order of deposition; the first lies on the substrate',
);

/** CONTRACT's plate: the second surface, added incoherently. */
export const plateShape = v.strictObject({
  thicknessMm: quantity('mm', { min: 0, max: 1000 }, 'thickness of the substrate'),
  backLayers: v.optional(layersShape, []),
  exit: v.exactOptional(indexSpec),
});

/** CONTRACT's STACK without the plate, to be spread into a strict object. */
export const surfaceFields = {
  incident: v.optional(indexSpec, 1),
  layers: v.optional(layersShape, []),
  substrate: indexSpec,
};

/** CONTRACT's STACK fields, to be spread into a strict object: `v.strictObject({ ...stackFields, ... })`. */
export const stackFields = { ...surfaceFields, plate: v.exactOptional(plateShape) };

export type LayerRequest = v.InferOutput<typeof layerShape>;
export type PlateRequest = v.InferOutput<typeof plateShape>;

/** A stack as `stackFields` typed it. */
export interface StackRequest {
  readonly incident: IndexSpec;
  readonly layers: readonly LayerRequest[];
  readonly substrate: IndexSpec;
  readonly plate?: PlateRequest;
}

/** A layer's index on a grid; with a profile where the layer is graded. */
export type LayerOnGrid = ResolvedIndex & { readonly profile?: Float64Array };

/** The second surface with its indices looked up. `backLayers[0]` lies on the substrate. */
export interface PlateOnGrid {
  readonly thicknessMm: number;
  readonly backLayers: readonly LayerOnGrid[];
  readonly backThicknessNm: Float64Array;
  readonly exit: ResolvedIndex;
}

/** A request's stack with its indices looked up, ready for the optics. */
export interface ResolvedStack {
  readonly stack: {
    readonly wavelengthNm: Float64Array;
    readonly incident: ResolvedIndex;
    readonly layers: readonly LayerOnGrid[];
    readonly substrate: ResolvedIndex;
  };
  /** Of each layer, in the order of deposition. */
  readonly thicknessNm: Float64Array;
  readonly plate?: PlateOnGrid;
  /** A sentence for each material that is used outside the range of its data. */
  readonly warnings: readonly string[];
}

/**
 * Looks up every index of a stack on a grid of wavelengths (nm). Layers of the same material share one
 * medium.
 * @param shortestNm the wavelength for which graded layers get their sublayers. One computation that asks for several
 * grids names the same for all, so that nothing jumps between them.
 * @throws InputError where a material is unknown or the incident medium absorbs.
 */
export function resolveStack(
  request: StackRequest,
  wavelengthNm: Float64Array,
  shortestNm: number = shortest(wavelengthNm),
): ResolvedStack {
  const known = new Map<string, ResolvedIndex>();
  const warnings: string[] = [];
  const medium = (spec: IndexSpec, path: string): ResolvedIndex => {
    const key = JSON.stringify(spec);
    const before = known.get(key);
    if (before !== undefined) return before;
    const found = resolveIndex(spec, wavelengthNm, [], path);
    known.set(key, found);
    warnings.push(...found.warnings);
    return found;
  };
  const media = (layers: readonly LayerRequest[], path: string) =>
    layers.map(({ material, thicknessNm, grading }, i): LayerOnGrid => {
      const place = `${path}[${i}]`;
      const index = (nm: Float64Array) =>
        nm === wavelengthNm
          ? medium(material, `${place}.material`)
          : resolveIndex(material, nm, [], `${place}.material`);
      return gradedIndex(index, grading, thicknessNm, shortestNm, `${place}.grading`)(wavelengthNm);
    });
  const thicknesses = (layers: readonly LayerRequest[]) =>
    Float64Array.from(layers, (layer) => layer.thicknessNm);

  const { plate } = request;
  const incident = medium(request.incident, 'incident');
  requireTransparent(incident, wavelengthNm, 'incident');
  const stack = {
    wavelengthNm,
    incident,
    layers: media(request.layers, 'layers'),
    substrate: medium(request.substrate, 'substrate'),
  };
  const thicknessNm = thicknesses(request.layers);
  if (plate === undefined) return { stack, thicknessNm, warnings };
  return {
    stack,
    thicknessNm,
    plate: {
      thicknessMm: plate.thicknessMm,
      backLayers: media(plate.backLayers, 'plate.backLayers'),
      backThicknessNm: thicknesses(plate.backLayers),
      exit: plate.exit === undefined ? incident : medium(plate.exit, 'plate.exit'),
    },
    warnings,
  };
}

/** The shortest of some wavelengths in nm. */
export function shortest(wavelengthNm: Float64Array): number {
  return wavelengthNm.reduce((least, nm) => Math.min(least, nm), Number.POSITIVE_INFINITY);
}

/** Reflectance and transmittance have no meaning in an incident medium that absorbs. */
function requireTransparent({ k }: ResolvedIndex, wavelengthNm: Float64Array, path: string): void {
  const at = k.findIndex((value) => value !== 0);
  if (at >= 0)
    throw new InputError(
      path,
      `the medium absorbs (k = ${k[at]} at ${wavelengthNm[at]} nm); the incident medium must have k = 0`,
    );
}
