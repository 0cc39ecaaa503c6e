import type { CutRule } from '../../src/monitor/cut-rule.ts';
import { LightWalk } from '../../src/monitor/light-walk.ts';
import { type CutLayer, setUpRuns } from '../../src/monitor/run-setup.ts';
import { simulateRuns } from '../../src/monitor/simulate-runs.ts';
import type { IndexOf, Witness } from '../../src/monitor/witness.ts';
import { WitnessLight } from '../../src/monitor/witness-light.ts';
import { measure, type Timing } from './measure.ts';

const LAYERS = 8;
const SAMPLES = 2000;
const SAMPLE_S = 0.1;

function constant(n: number): IndexOf {
  return (wavelengthNm) => ({ n: wavelengthNm.map(() => n), k: wavelengthNm.map(() => 0) });
}

const witness: Witness = {
  incident: constant(1),
  substrate: constant(1.52),
  thicknessMm: 1,
  backSurface: 'none',
};
const [high, low] = [constant(2.1), constant(1.46)];

function layersCutBy(rule: CutRule): CutLayer[] {
  const thicknessNm = [14, 38, 20, 70, 30, 100, 25, 95];
  return thicknessNm.map((nm, i) => ({
    material: i % 2 === 0 ? high : low,
    thicknessNm: nm,
    wavelengthNm: 550,
    signal: 'R',
    rule,
    rateNmPerS: nm / (SAMPLES * SAMPLE_S),
    newWitness: i % 2 === 0,
  }));
}

/** One step of a growing layer's light, and one reading of a whole virtual run with all its noise and decisions. */
export function virtualRunTimes(): { readonly name: string; readonly timing: Timing }[] {
  const light = new WitnessLight(witness, [high, low], { wavelengthNm: 550, signal: 'R' });
  const walk = new LightWalk(light);
  const steps = new Float64Array(64).fill(0.05);
  const levels = new Float64Array(64);
  const walked = measure(64, () => {
    walk.begin([40]);
    walk.take(steps, 1, 64, levels);
    return levels[63]!;
  });
  const noise = {
    signalPercent: 0.05,
    driftPercentPerMin: 0.01,
    rateNoisePercent: 5,
    rateBiasPercent: 0,
    crystalPercent: 1,
    shutterDelayS: 0.1,
    sampleS: SAMPLE_S,
  };
  const runs = (['level', 'crystal'] as const).map((rule) => {
    const setup = setUpRuns(witness, layersCutBy(rule), noise);
    const timing = measure(
      LAYERS * SAMPLES,
      (round) => simulateRuns(setup, 1, round, round + 1).thicknessNm[0]!,
    );
    return { name: `a reading of a run cut by ${rule}`, timing };
  });
  return [{ name: "a step of a growing layer's light", timing: walked }, ...runs];
}
