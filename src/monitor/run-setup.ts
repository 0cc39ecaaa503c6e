import { requireWithin } from '../base/errors.ts';
import { type CrystalStock, checkCrystals } from './crystal-stock.ts';
import { type CutPlan, planCut } from './cut-plan.ts';
import type { CutRule } from './cut-rule.ts';
import { checkNoise, type RunNoise } from './run-noise.ts';
import { checkMonitored, firstOnWitness, type MonitoredLayer, type Witness } from './witness.ts';
import { lightOfLayer, type WitnessLight } from './witness-light.ts';

/** A layer with the way in which it is cut. */
export interface CutLayer extends MonitoredLayer {
  readonly rule: CutRule;
  /** Set rate on the lens, nm/s, 1e-4 to 1000. */
  readonly rateNmPerS: number;
}

/** Everything that stands before a virtual run begins; it serves any number of runs. */
export interface RunSetup {
  readonly witness: Witness;
  readonly layers: readonly CutLayer[];
  readonly noise: RunNoise;
  /** Of each layer: its light, what its controller knows, and the first layer on its witness. */
  readonly lights: readonly WitnessLight[];
  readonly plans: readonly CutPlan[];
  readonly first: readonly number[];
  /** Absent: nothing is known of the crystals, and none is ever worn. */
  readonly crystals?: CrystalStock;
}

/** More readings than this in one layer are refused: the run would not end in a sensible time. */
const MOST_SAMPLES = 2_000_000;

/**
 * Checks the run and works out each layer's cut plan.
 * @throws InputError where witness, layers, rates, noise or crystals are out of range.
 */
export function setUpRuns(
  witness: Witness,
  layers: readonly CutLayer[],
  noise: RunNoise,
  crystals?: CrystalStock,
): RunSetup {
  checkMonitored(witness, layers);
  checkNoise(noise);
  for (const [index, layer] of layers.entries()) {
    const at = `layers[${index}]`;
    requireWithin(`${at}.rateNmPerS`, layer.rateNmPerS, 'nm/s', { min: 1e-4, max: 1000 });
    const samples = layer.thicknessNm / layer.rateNmPerS / noise.sampleS;
    requireWithin(`${at}.rateNmPerS`, samples, 'readings in this layer', { max: MOST_SAMPLES });
  }
  if (crystals !== undefined) checkCrystals(crystals, layers.length);
  return {
    ...{ witness, layers, noise },
    ...cutPlans(witness, layers, noise),
    ...(crystals === undefined ? {} : { crystals }),
  };
}

/**
 * Each layer's light and cut plan, with the doubts about its rule, on the planned films below. Unlike `setUpRuns` it takes
 * layers of any length.
 * @throws InputError where witness, layers or noise are out of range.
 */
export function cutPlans(
  witness: Witness,
  layers: readonly CutLayer[],
  noise: RunNoise,
): Pick<RunSetup, 'lights' | 'plans' | 'first'> {
  checkMonitored(witness, layers);
  checkNoise(noise);
  const onWitness = Float64Array.from(layers, (layer) => layer.thicknessNm * (layer.tooling ?? 1));
  const first = layers.map((_, index) => firstOnWitness(layers, index));
  const lights = layers.map((_, index) => lightOfLayer(witness, layers, index));
  const plans = layers.map((layer, index) => {
    const light = lights[index]!;
    light.begin(onWitness.subarray(first[index]!, index));
    return planCut(light, layer.rule, layer.thicknessNm, layer.tooling ?? 1, layer.rateNmPerS, noise);
  });
  return { lights, plans, first };
}
