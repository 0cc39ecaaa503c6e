import { AsBuiltModel, type Deviation, type MeasuredCoating } from '../../src/inspect/as-built-model.ts';
import { resolveIndex } from '../../src/materials/index-spec.ts';
import { Random } from '../../src/math/random.ts';

const wavelengthNm = Float64Array.from({ length: 41 }, (_, i) => 400 + 7.5 * i);
const medium = (spec: string | number) => resolveIndex(spec, wavelengthNm);
const media = { mgf2: medium('mgf2'), ta2o5: medium('ta2o5'), al2o3: medium('al2o3') };

/** An invented antireflection stack of four layers in three materials on glass 517642. */
const LAYERS = [
  ['al2o3', 75],
  ['ta2o5', 14],
  ['al2o3', 30],
  ['ta2o5', 110],
  ['mgf2', 92],
] as const;
export const GROUPS = [
  { name: 'al2o3', layers: [0, 2] },
  { name: 'ta2o5', layers: [1, 3] },
  { name: 'mgf2', layers: [4] },
];
export const PLANNED: Omit<MeasuredCoating, 'values'> = {
  stack: {
    wavelengthNm,
    incident: medium(1),
    layers: LAYERS.map(([material]) => media[material]),
    substrate: medium('517642'),
  },
  thicknessNm: Float64Array.from(LAYERS, ([, nm]) => nm),
  quantity: 'R',
  incidenceRad: 0,
  polarization: 'mean',
};

/** What would be measured with given deviations and noise (one sigma, fraction). */
export function measure(
  deviations: readonly Deviation[],
  x: readonly number[],
  noise: number,
  random: Random,
): MeasuredCoating {
  const light = new Float64Array(wavelengthNm.length);
  const model = new AsBuiltModel({ ...PLANNED, values: light.slice() }, deviations);
  model.values(Float64Array.from(x), light);
  return { ...PLANNED, values: light.map((value) => value + noise * random.normal()) };
}

/** A measurement with 0.1 % noise of a coating whose true factors are drawn from the seed. */
export function simulatedMeasurement(seed: number, free: 'materials' | 'layers', withIndex: boolean) {
  const random = new Random(seed);
  const sets = free === 'materials' ? GROUPS.map(({ layers }) => layers) : LAYERS.map((_, i) => [i]);
  const thickness = sets.map(() => 1 + 0.05 * (2 * random.uniform() - 1));
  const index = withIndex ? GROUPS.map(() => 1 + 0.02 * (2 * random.uniform() - 1)) : [];
  const deviations: Deviation[] = [
    ...sets.map((layers): Deviation => ({ kind: 'thickness', layers })),
    ...index.map((_, i): Deviation => ({ kind: 'index', layers: GROUPS[i]!.layers })),
  ];
  return {
    coating: measure(deviations, [...thickness, ...index], 0.001, random),
    groups: GROUPS,
    truth: { thickness, index },
  };
}
