import { Random } from '../../math/random.ts';
import { isMet, withIndexFactors } from '../judged-channels.ts';
import { ChannelLight } from '../light-channel.ts';
import type { TrialPlan } from './trial-plan.ts';

/** Trials that draw from one stream of random numbers: the unit that may run on any thread. */
export interface TrialBlock {
  readonly block: number;
  readonly trials: number;
  /** Whether the spectra are wanted. */
  readonly keepsSpectra: boolean;
}

export interface BlockResult {
  /** Trials that met every requirement. */
  readonly passes: number;
  /** Of each requirement, trials that met it. */
  readonly goalPasses: readonly number[];
  /** Reflectance, [trial * wavelengths + wavelength]; empty where not wanted. */
  readonly reflectance: Float64Array;
}

/**
 * Makes coatings with normal errors and judges them. Each layer's thickness is d (1 + relative) + absolute, no less
 * than 0, since a layer can't be thinner than nothing; each layer's index is n (1 + index error).
 */
export function runTrials(plan: TrialPlan, { block, trials, keepsSpectra }: TrialBlock): BlockResult {
  const random = new Random(plan.seed).stream(block);
  const { relativePercent, absoluteNm, indexPercent } = plan.errors;
  const relative = relativePercent / 100;
  const front = plan.frontNm.slice();
  const back = plan.backNm.slice();
  const disturb = (nominal: Float64Array, actual: Float64Array) => {
    for (let layer = 0; layer < nominal.length; layer++) {
      let nm = nominal[layer]!;
      if (relative > 0) nm *= 1 + relative * random.normal();
      if (absoluteNm > 0) nm += absoluteNm * random.normal();
      actual[layer] = Math.max(0, nm);
    }
  };
  let lights = plan.channels.map((channel) => new ChannelLight(channel));
  const lightAt = (place: number) => lights[place]!;
  const shownSize = plan.channels[plan.shownChannel]!.wavelengthNm.length;
  const reflectance = new Float64Array(keepsSpectra ? trials * shownSize : 0);
  const goalPasses = plan.goals.map(() => 0);
  let passes = 0;
  for (let trial = 0; trial < trials; trial++) {
    disturb(plan.frontNm, front);
    disturb(plan.backNm, back);
    if (indexPercent > 0) {
      const factors = Float64Array.from({ length: front.length + back.length }, () =>
        Math.max(0.1, 1 + (indexPercent / 100) * random.normal()),
      );
      lights = plan.channels.map((channel) => new ChannelLight(withIndexFactors(channel, factors)));
    }
    for (const light of lights) light.update(front, back);
    let meetsAll = true;
    plan.goals.forEach((goal, place) => {
      if (isMet(goal, lightAt)) goalPasses[place]! += 1;
      else meetsAll = false;
    });
    if (meetsAll) passes++;
    if (keepsSpectra) reflectance.set(lights[plan.shownChannel]!.R, trial * shownSize);
  }
  return { passes, goalPasses, reflectance };
}
