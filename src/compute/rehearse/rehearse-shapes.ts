import * as v from 'valibot';
import { InputError } from '../../base/errors.ts';
import { count, list, quantity, text, yesOrNo } from '../../base/schema.ts';
import { requirement } from '../../design/requirement.ts';
import { indexSpec } from '../../materials/index-spec.ts';
import { type RunSetup, setUpRuns } from '../../monitor/run-setup.ts';
import { wavelengthGrid } from '../grid.ts';
import {
  cutRule,
  incidenceField,
  MaterialBook,
  noiseShape,
  resolveMonitored,
  resolveWitness,
  sightFields,
  witnessShape,
} from '../monitor-shapes.ts';
import { stackFields } from '../shapes.ts';
import { crystalFilmFields, crystalStockOf, crystalsShape } from './crystal-shapes.ts';

const rate = quantity('nm/s', { min: 1e-4, max: 1000 }, 'set rate on the lens');

/** How one layer of a virtual run is monitored and cut. */
const cutLayerShape = v.strictObject({
  material: v.exactOptional(indexSpec),
  thicknessNm: v.exactOptional(quantity('nm', { min: 0, max: 1e6 }, "on the lens; left out: the stack's")),
  ...sightFields,
  rule: v.exactOptional(cutRule),
  cut: v.exactOptional(cutRule),
  rateNmPerS: v.exactOptional(rate),
  ...crystalFilmFields,
});

/** Another way of monitoring the same layers, for comparison: what it leaves out is as in `monitor`. */
const strategyShape = v.strictObject({
  name: text(80, 'what it is called in the answer'),
  rule: v.exactOptional(cutRule),
  layers: v.exactOptional(
    list(
      v.strictObject({
        rule: v.exactOptional(cutRule),
        wavelengthNm: v.exactOptional(sightFields.wavelengthNm),
        signal: v.exactOptional(sightFields.signal),
        newWitness: v.exactOptional(yesOrNo()),
      }),
      { max: 200 },
      'changes to each layer, in the order of deposition; they go before "rule", which is for all',
    ),
  ),
});

/** Most virtual runs of one request. */
const MOST_RUNS = 1_000_000;

export const rehearseShape = v.strictObject({
  ...stackFields,
  requirements: v.optional(list(requirement, { max: 100 }), []),
  monitor: v.strictObject({
    witness: witnessShape,
    incident: v.exactOptional(indexSpec),
    layers: list(cutLayerShape, { min: 1, max: 200 }, 'one for each layer, with its rule ("rule" or "cut")'),
    incidenceDeg: incidenceField,
    samplesPerLayer: v.exactOptional(count({ min: 2, max: 100_000 })),
  }),
  noise: v.optional(noiseShape, {}),
  crystals: v.exactOptional(crystalsShape),
  rateNmPerS: v.exactOptional(
    v.union([list(rate, { min: 1, max: 200 }), rate], 'is neither a rate in nm/s nor a list of rates'),
  ),
  runs: v.optional(count({ min: 2, max: MOST_RUNS }), 1000),
  seed: v.optional(count({ min: 0, max: Number.MAX_SAFE_INTEGER }), 1),
  wavelengthNm: v.exactOptional(wavelengthGrid),
  strategies: v.optional(list(strategyShape, { max: 20 }, 'other ways of monitoring, to compare'), []),
});

export type RehearseRequest = v.InferOutput<typeof rehearseShape>;

/** The same request with another way of monitoring. @throws InputError at its place where it changes too many layers. */
export function withStrategy(request: RehearseRequest, index: number): RehearseRequest {
  const { rule: forAll, layers: changes = [] } = request.strategies[index]!;
  const { layers } = request.monitor;
  if (changes.length > layers.length)
    throw new InputError(
      `strategies[${index}].layers`,
      `${changes.length} layers are changed, but ${layers.length} are monitored`,
    );
  const changed = layers.map((layer, at) => {
    const { rule, cut, ...rest } = layer;
    const own = rule ?? cut;
    const { rule: another, ...sight } = changes[at] ?? {};
    const taken = another ?? forAll ?? own;
    return { ...rest, ...sight, ...(taken === undefined ? {} : { rule: taken }) };
  });
  return { ...request, strategies: [], monitor: { ...request.monitor, layers: changed } };
}

/** A request made ready: the stack with its layers, and the runs set up. */
export interface ReadyRehearsal {
  readonly stack: Pick<RehearseRequest, 'incident' | 'substrate' | 'layers' | 'plate'>;
  readonly setup: RunSetup;
  readonly book: MaterialBook;
  /** What is doubtful about the crystals before the run. */
  readonly crystalDoubts: readonly string[];
}

/**
 * The stack of the lens and the monitor's layers are one and the same; what only one of them says counts for both.
 * @throws InputError where they contradict each other or something is missing.
 */
export function readyRehearsal(request: RehearseRequest): ReadyRehearsal {
  const { monitor, noise } = request;
  const given = request.layers;
  if (given.length > 0 && given.length !== monitor.layers.length)
    throw new InputError(
      'monitor.layers',
      `${monitor.layers.length} layers are monitored, but the stack has ${given.length}`,
    );
  const book = new MaterialBook();
  const layers = monitor.layers.map((layer, index) => {
    const at = `monitor.layers[${index}]`;
    const own = given[index];
    const material = layer.material ?? own?.material;
    const thicknessNm = layer.thicknessNm ?? own?.thicknessNm;
    if (material === undefined) throw new InputError(`${at}.material`, 'is missing');
    if (thicknessNm === undefined) throw new InputError(`${at}.thicknessNm`, 'is missing');
    if (own !== undefined && Math.abs(own.thicknessNm - thicknessNm) > 1e-9 * thicknessNm)
      throw new InputError(
        `${at}.thicknessNm`,
        `${thicknessNm} nm differs from the stack's ${own.thicknessNm} nm; both are those on the lens`,
      );
    return {
      ...resolveMonitored(
        { ...layer, material, thicknessNm, ...(own?.grading && { grading: own.grading }) },
        book,
        at,
      ),
      rule: ruleOf(layer, at),
      rateNmPerS: rateOf(request, index, at),
      spec: material,
    };
  });
  const incident = monitor.incident ?? request.incident;
  const witness = resolveWitness(monitor.witness, incident, monitor.incidenceDeg, book, 'monitor.witness');
  const { plate } = request;
  const crystals = crystalStockOf(request.crystals, monitor.layers, layers);
  return {
    stack: {
      incident: request.incident,
      substrate: request.substrate,
      layers:
        given.length > 0 ? given : layers.map(({ spec, thicknessNm }) => ({ material: spec, thicknessNm })),
      ...(plate === undefined ? {} : { plate }),
    },
    setup: setUpRuns(witness, layers, noise, crystals?.stock),
    book,
    crystalDoubts: crystals?.doubts ?? [],
  };
}

type CutLayerRequest = v.InferOutput<typeof cutLayerShape>;

function ruleOf({ rule, cut }: CutLayerRequest, at: string) {
  if (rule !== undefined && cut !== undefined && rule !== cut)
    throw new InputError(`${at}.cut`, `"${cut}" contradicts the rule "${rule}"`);
  const found = rule ?? cut;
  if (found === undefined) throw new InputError(`${at}.rule`, 'is missing');
  return found;
}

function rateOf({ rateNmPerS, monitor }: RehearseRequest, index: number, at: string): number {
  const own = monitor.layers[index]!.rateNmPerS;
  if (own !== undefined) return own;
  if (rateNmPerS === undefined) throw new InputError(`${at}.rateNmPerS`, 'is missing');
  if (typeof rateNmPerS === 'number') return rateNmPerS;
  if (rateNmPerS.length !== monitor.layers.length)
    throw new InputError(
      'rateNmPerS',
      `${rateNmPerS.length} rates stand against ${monitor.layers.length} layers`,
    );
  return rateNmPerS[index]!;
}
