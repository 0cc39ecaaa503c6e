import * as v from 'valibot';
import { InputError } from '../base/errors.ts';
import { choice, hasKey, list, quantity, shown, text } from '../base/schema.ts';

/** Index and extinction on a grid of wavelengths; N = n − ik. */
interface Medium {
  readonly n: Float64Array;
  readonly k: Float64Array;
}

const indexSpec = interimIndexSpec();
type IndexSpec = v.InferOutput<typeof indexSpec>;

/** One layer of a request. */
export const layerShape = v.strictObject({
  material: indexSpec,
  thicknessNm: quantity('nm', { min: 0, max: 1e7 }, 'physical thickness'),
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

/** The second surface with its indices looked up. `backLayers[0]` lies on the substrate. */
export interface PlateOnGrid {
  readonly thicknessMm: number;
  readonly backLayers: readonly Medium[];
  readonly backThicknessNm: Float64Array;
  readonly exit: Medium;
}

/** A request's stack with its indices looked up, ready for the optics. */
export interface ResolvedStack {
  readonly stack: {
    readonly wavelengthNm: Float64Array;
    readonly incident: Medium;
    readonly layers: readonly Medium[];
    readonly substrate: Medium;
  };
  /** Of each layer, in the order of deposition. */
  readonly thicknessNm: Float64Array;
  readonly plate?: PlateOnGrid;
  /** A sentence for each material that is used outside the range of its data. */
  readonly warnings: readonly string[];
}

/**
 * Looks up every index of a stack on a grid of wavelengths (nm). Layers of the same material share one
 * `Medium` object.
 * @throws InputError where a material is unknown or the incident medium absorbs.
 */
export function resolveStack(request: StackRequest, wavelengthNm: Float64Array): ResolvedStack {
  const known = new Map<string, Medium>();
  const warnings: string[] = [];
  const medium = (spec: IndexSpec, path: string): Medium => {
    const key = JSON.stringify(spec);
    const found = known.get(key) ?? interimIndex(spec, wavelengthNm, path);
    known.set(key, found);
    return found;
  };
  const media = (layers: readonly LayerRequest[], path: string) =>
    layers.map((layer, i) => medium(layer.material, `${path}[${i}].material`));
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

/** Reflectance and transmittance have no meaning in an incident medium that absorbs. */
function requireTransparent({ k }: Medium, wavelengthNm: Float64Array, path: string): void {
  const at = k.findIndex((value) => value !== 0);
  if (at >= 0)
    throw new InputError(
      path,
      `the medium absorbs (k = ${k[at]} at ${wavelengthNm[at]} nm); the incident medium must have k = 0`,
    );
}

function interimIndexSpec() {
  const id = text(80, 'a material id');
  const number = quantity('', { min: 0.01, max: 100 }, 'a constant index');
  const complex = v.strictObject({
    n: quantity('', { min: 0, max: 100 }),
    k: v.optional(quantity('', { min: 0, max: 100 }), 0),
  });
  const cauchy = v.strictObject({ cauchy: v.tuple([v.number(), v.number(), v.number()]) });
  return choice<typeof id | typeof number | typeof complex | typeof cauchy>(
    [id, number, complex, cauchy],
    (input) => {
      if (typeof input === 'string') return id;
      if (typeof input === 'number') return number;
      return hasKey(input, 'cauchy') ? cauchy : complex;
    },
    'refractive index',
  );
}

function interimIndex(spec: IndexSpec, wavelengthNm: Float64Array, path: string): Medium {
  if (typeof spec === 'string') throw new InputError(path, `${shown(spec)} is not a known material`);
  if (typeof spec === 'number') return interimIndex({ n: spec, k: 0 }, wavelengthNm, path);
  if ('n' in spec) return { n: wavelengthNm.map(() => spec.n), k: wavelengthNm.map(() => spec.k) };
  const [a, b, c] = spec.cauchy;
  return {
    n: wavelengthNm.map((nm) => a + b / (nm / 1000) ** 2 + c / (nm / 1000) ** 4),
    k: new Float64Array(wavelengthNm.length),
  };
}
