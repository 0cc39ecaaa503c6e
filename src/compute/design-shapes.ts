import * as v from 'valibot';
import { InputError } from '../base/errors.ts';
import { choice, count, list, quantity, shown, text, word, yesOrNo } from '../base/schema.ts';
import { type IndexFunction, rememberIndex } from '../design/coated-surface.ts';
import { type DesignProblem, MOST_LAYERS, type PoolMaterial } from '../design/design-problem.ts';
import type { GivenStack } from '../design/refine-stack.ts';
import { type Requirement, requirement } from '../design/requirement.ts';
import { bandGrid } from '../design/wavelength-grid.ts';
import { gradedIndex, type LayerGrading, layerGrading } from '../materials/grading.ts';
import { type IndexSpec, indexSpec, resolveIndex } from '../materials/index-spec.ts';

const poolId = text(80, 'the id of a material');
const poolOwn = v.strictObject({ id: text(80, 'its name in the answer'), index: indexSpec });
const notPool = v.never(
  (issue) => `${shown(issue.input)} is neither the id of a material nor {"id", "index"}`,
);

const poolMaterial = choice<typeof poolId | typeof poolOwn | typeof notPool>(
  [poolId, poolOwn],
  (input) => {
    if (typeof input === 'string') return poolId;
    return typeof input === 'object' && input !== null && !Array.isArray(input) ? poolOwn : notPool;
  },
  'a material for new layers: its id, or {"id": "low", "index": INDEX}',
);

const startLayer = v.strictObject({
  material: choice<typeof indexSpec>([indexSpec], () => indexSpec, 'INDEX or an id of the pool'),
  thicknessNm: quantity('nm', { min: 0, max: 1e5 }),
  grading: v.exactOptional(layerGrading),
  fixed: v.exactOptional(yesOrNo()),
  group: v.exactOptional(count({ min: 0, max: 1000 }, 'layers of one group stay equally thick')),
});

const sigma = (unit: string, max: number, note: string) =>
  v.optional(quantity(unit, { min: 0, max }, `${note}, one sigma`), 0);

/** Errors of manufacture: normal, independent from layer to layer. */
export const layerErrors = v.strictObject({
  relativePercent: sigma('%', 50, "of each layer's thickness"),
  absoluteNm: sigma('nm', 1000, "of each layer's thickness"),
  indexPercent: sigma('%', 20, "of each layer's index n"),
});

/** The fields that the tasks design and rescue share. */
export const designFields = {
  incident: v.optional(indexSpec, 1),
  substrate: indexSpec,
  pool: list(poolMaterial, { min: 1, max: 50 }, 'materials for new layers'),
  requirements: list(requirement, { min: 1, max: 50 }),
  maxLayers: v.optional(count({ min: 1, max: MOST_LAYERS }, 'most layers'), 6),
  minThicknessNm: v.optional(quantity('nm', { min: 0.1, max: 1000 }, 'thinnest layer'), 5),
  maxThicknessNm: v.exactOptional(quantity('nm', { min: 1, max: 1e5 }, 'thickest layer')),
  maxTotalNm: v.exactOptional(quantity('nm', { min: 1, max: 1e6 }, 'thickest stack')),
  maxMaterials: v.exactOptional(count({ min: 1, max: 50 }, 'pockets of the chamber')),
  start: v.exactOptional(
    list(startLayer, { min: 1, max: 200 }, 'layers to begin with, first on the substrate'),
  ),
  search: v.optional(
    word(
      ['refine', 'synthesize', 'closed-form'],
      'refine changes the thicknesses of start only; closed-form gives every starting stack of the materials with its source, unrefined',
    ),
    'synthesize',
  ),
  goal: v.optional(
    word(['lowest', 'robust'], 'robust: the highest yield under the errors, instead of the lowest merit'),
    'lowest',
  ),
  errors: v.exactOptional(layerErrors),
  seed: v.optional(count({ min: 0, max: Number.MAX_SAFE_INTEGER }), 1),
  timeLimitS: v.optional(quantity('s', { min: 0.1, max: 3600 }, 'for two cores'), 20),
  effort: v.optional(
    quantity('', { above: 0, max: 10 }, 'share of the work that is planned for the time limit'),
    1,
  ),
};

const designShape = v.strictObject(designFields);
export type DesignRequest = v.InferOutput<typeof designShape>;

/** What layers are made of and how they grow. */
export interface LayerKind {
  readonly material: IndexSpec;
  readonly grading?: LayerGrading;
}

function kindOf({ material, grading }: LayerKind): LayerKind {
  return grading === undefined ? { material } : { material, grading };
}

/** How much thicker a graded layer may become before its sublayers were too few for their accuracy. */
const GRADED_GROWTH = 1.5;

/** A request made ready for the library. */
export interface ReadyDesign {
  readonly problem: DesignProblem;
  readonly start: GivenStack | undefined;
  /** What the answer says of a layer of each place of the palette beside its thickness. */
  readonly kinds: readonly LayerKind[];
  readonly warnings: readonly string[];
}

/**
 * Looks the materials up and checks that they have data where the requirements lie.
 * @throws InputError where an id is unknown or given twice, or no material has data in a band.
 */
export function readyDesign(request: DesignRequest): ReadyDesign {
  const bands = request.requirements.map(({ bandNm }) => bandGrid(bandNm, 61));
  const shortestNm = Math.min(...request.requirements.map(({ bandNm }) => bandNm[0]));
  const warnings = new Set<string>();
  const lookUp = (spec: IndexSpec, path: string): { index: IndexFunction; reaches: boolean[] } => {
    const reaches = bands.map((band) => {
      const found = resolveIndex(spec, band, [], path);
      for (const warning of found.warnings) warnings.add(warning);
      return found.inRange.some(Boolean);
    });
    return { index: rememberIndex((wavelengthNm) => resolveIndex(spec, wavelengthNm, [], path)), reaches };
  };
  const pool = request.pool.map((given, place) => {
    const [id, spec] = typeof given === 'string' ? [given, given] : [given.id, given.index];
    return { id, ...lookUp(spec, typeof given === 'string' ? `pool[${place}]` : `pool[${place}].index`) };
  });
  pool.forEach(({ id }, place) => {
    const first = pool.findIndex((other) => other.id === id);
    if (first < place) throw new InputError(`pool[${place}]`, `"${id}" stands in the pool twice`);
  });
  request.requirements.forEach(({ bandNm }, at) => {
    if (pool.some(({ reaches }) => reaches[at])) return;
    const band = bandNm[0] === bandNm[1] ? `at ${bandNm[0]} nm` : `between ${bandNm[0]} and ${bandNm[1]} nm`;
    throw new InputError('pool', `no material has data ${band}, where requirements[${at}] lies`);
  });
  const kinds: LayerKind[] = pool.map(({ id }) => ({ material: id }));
  const others: PoolMaterial[] = [];
  const start = request.start?.map((layer, at) => {
    const { material, grading } = layer;
    const kind = kindOf(layer);
    const isAlike = (other: LayerKind) => JSON.stringify(other) === JSON.stringify(kind);
    let place = kinds.findIndex(isAlike);
    if (place < 0) {
      place = kinds.length;
      kinds.push(kind);
      const known = pool.find(({ id }) => id === material);
      const { index } = known ?? lookUp(material, `start[${at}].material`);
      const thickest = Math.max(
        ...request.start!.filter((other) => isAlike(kindOf(other))).map(({ thicknessNm }) => thicknessNm),
      );
      others.push({
        id: typeof material === 'string' ? material : `layer ${at + 1}`,
        index: gradedIndex(index, grading, GRADED_GROWTH * thickest, shortestNm, `start[${at}].grading`),
      });
    }
    return { ...layer, place };
  });
  const { maxThicknessNm, maxTotalNm, maxMaterials } = request;
  const problem: DesignProblem = {
    incident: lookUp(request.incident, 'incident').index,
    substrate: lookUp(request.substrate, 'substrate').index,
    pool: pool.map(({ id, index }) => ({ id, index })),
    others,
    requirements: request.requirements as readonly Requirement[],
    maxLayers: request.maxLayers,
    minNm: request.minThicknessNm,
    ...(maxThicknessNm === undefined ? {} : { maxNm: maxThicknessNm }),
    ...(maxTotalNm === undefined ? {} : { maxTotalNm }),
    ...(maxMaterials === undefined ? {} : { maxMaterials }),
  };
  return {
    problem,
    start:
      start === undefined
        ? undefined
        : {
            layers: start.map(({ place, thicknessNm }) => ({ place, thicknessNm })),
            fixed: start.map(({ fixed }) => fixed ?? false),
            groups: start.map(({ group }) => group),
          },
    kinds,
    warnings: [...warnings],
  };
}
