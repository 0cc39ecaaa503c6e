import { requireWithin } from '../base/errors.ts';
import { planCut } from './cut-plan.ts';
import { type CutRule, isOptical } from './cut-rule.ts';
import { checkNoise, type RunNoise } from './run-noise.ts';
import { turningPoints } from './turning-points.ts';
import { checkMonitored, firstOnWitness, type MonitoredLayer, type Witness } from './witness.ts';
import { lightOfLayer, type WitnessLight } from './witness-light.ts';

/** A layer whose wavelength, signal and rule are to be chosen. */
export interface OpenLayer
  extends Pick<
    MonitoredLayer,
    'material' | 'thicknessNm' | 'bandwidthNm' | 'bandShape' | 'tooling' | 'newWitness'
  > {
  readonly rateNmPerS: number;
}

/** What may be chosen from. */
export interface SightChoices {
  /** Wavelengths of the monitor, nm, each from 50 to 1e6; at least one. */
  readonly wavelengthNm: ArrayLike<number>;
  readonly signals: readonly ('R' | 'T')[];
  /** Rules that the machine knows. The clock is taken only where it is the only one. */
  readonly rules: readonly CutRule[];
}

/** How to monitor a layer, and why. */
export interface ChosenSight {
  readonly wavelengthNm: number;
  readonly signal: 'R' | 'T';
  readonly rule: CutRule;
  /** Expected error of the thickness on the lens, one sigma, with what earlier layers hand on, nm. */
  readonly expectedErrorNm: number;
  readonly reason: string;
}

/** What a level may be wrong by beyond its noise when nothing is said about the gain: 1 % of itself (common practice, no source). */
const USUAL_GAIN = 0.01;
/** A level must stand this many times its own uncertainty away from the turning points beside it. */
const CLEAR_OF_TURN = 4;

/**
 * Chooses for each layer, in the order of deposition, the wavelength, signal and rule with the least expected error of
 * thickness: noise and gain over the slope at the cut, delay and scatter at a turning point, or the
 * crystal's scale, each with the errors that earlier layers on the same witness hand on to it (to first order, taken as
 * independent). Cuts by level that come near a turning point are left out.
 * @throws InputError where something is out of range.
 */
export function chooseSights(
  witness: Witness,
  layers: readonly OpenLayer[],
  noise: RunNoise,
  choices: SightChoices,
): ChosenSight[] {
  requireWithin('wavelengthNm', choices.wavelengthNm.length, 'wavelengths', { min: 1 });
  requireWithin('rules', choices.rules.length, 'rules', { min: 1 });
  requireWithin('signals', choices.signals.length, 'signals', { min: 1 });
  checkNoise(noise);
  const chosen: ChosenSight[] = [];
  for (const [index, layer] of layers.entries()) {
    requireWithin(`layers[${index}].rateNmPerS`, layer.rateNmPerS, 'nm/s', { min: 1e-4, max: 1000 });
    chosen.push(chooseOne(witness, layers, index, noise, choices, chosen));
  }
  return chosen;
}

function chooseOne(
  witness: Witness,
  layers: readonly OpenLayer[],
  index: number,
  noise: RunNoise,
  choices: SightChoices,
  before: readonly ChosenSight[],
): ChosenSight {
  const found: ChosenSight[] = [];
  for (const rule of choices.rules) {
    if (!isOptical(rule)) {
      found.push(withoutLight(rule, layers[index]!, noise, choices));
      continue;
    }
    for (const signal of choices.signals)
      for (const wavelengthNm of Array.from(choices.wavelengthNm)) {
        const seen = layers.slice(0, index + 1).map((layer) => ({ ...layer, wavelengthNm, signal }));
        checkMonitored(witness, seen);
        const judged = judgeLight(witness, seen, noise, rule, before);
        if (judged !== undefined) found.push(judged);
      }
  }
  const useful = found.filter(({ rule }) => rule !== 'time');
  const best = (useful.length > 0 ? useful : found).reduce<ChosenSight | undefined>(
    (least, one) => (least === undefined || one.expectedErrorNm < least.expectedErrorNm ? one : least),
    undefined,
  );
  if (best !== undefined) return best;
  // Every optical way was refused and the machine knows no other: the first one, with the truth about it.
  return {
    wavelengthNm: choices.wavelengthNm[0]!,
    signal: choices.signals[0]!,
    rule: choices.rules[0]!,
    expectedErrorNm: layers[index]!.thicknessNm,
    reason:
      'No wavelength shows enough swing with the cut clear of a turning point; this layer needs a crystal.',
  };
}

function withoutLight(rule: CutRule, layer: OpenLayer, noise: RunNoise, choices: SightChoices): ChosenSight {
  const { thicknessNm, rateNmPerS } = layer;
  const delay = noise.shutterDelayS * rateNmPerS;
  const samples = thicknessNm / rateNmPerS / noise.sampleS;
  const share =
    rule === 'crystal'
      ? noise.crystalPercent / 100
      : Math.hypot(
          noise.rateBiasPercent / 100,
          noise.rateNoisePercent / 100 / Math.sqrt(Math.max(1, samples)),
          0.05,
        );
  const expectedErrorNm = Math.hypot(share * thicknessNm, delay);
  const how =
    rule === 'crystal'
      ? `Crystal: its scale is good to ${percent(share)}`
      : `Clock: the rate is trusted to ${percent(share)}`;
  return {
    wavelengthNm: choices.wavelengthNm[0]!,
    signal: choices.signals[0]!,
    rule,
    expectedErrorNm,
    reason: `${how}, about ±${nm(expectedErrorNm)}, and no wavelength of the monitor does better.`,
  };
}

function judgeLight(
  witness: Witness,
  layers: readonly (OpenLayer & MonitoredLayer)[],
  noise: RunNoise,
  rule: CutRule,
  before: readonly ChosenSight[],
): ChosenSight | undefined {
  const index = layers.length - 1;
  const layer = layers[index]!;
  const { thicknessNm, wavelengthNm, signal, rateNmPerS } = layer;
  if (thicknessNm === 0) return undefined;
  const tooling = layer.tooling ?? 1;
  const first = firstOnWitness(layers, index);
  const light = lightOfLayer(witness, layers, index);
  const below = Float64Array.from(layers.slice(first, index), (one) => one.thicknessNm * (one.tooling ?? 1));
  light.begin(below);
  const plan = planCut(light, rule, thicknessNm, tooling, rateNmPerS, noise);
  const endNm = plan.thicknessNm;
  if (plan.doubts.length > 0) return undefined;
  const sigma = noise.signalPercent / 100;
  const end = endNm * tooling;
  const slope = light.slope(end) * tooling;
  const level = light.level(end);
  const near = levelsBeside(light, end);
  const swing = near.highest - near.lowest;
  const delayNm = noise.shutterDelayS * rateNmPerS;
  const handedOn = (shiftOf: (other: WitnessLight) => number) =>
    Math.hypot(
      ...Array.from(below, (nmBelow, at) => {
        const step = 0.01;
        const moved = Float64Array.from(below);
        moved[at] = nmBelow + step;
        light.begin(moved);
        const more = shiftOf(light);
        moved[at] = nmBelow - step;
        light.begin(moved);
        const perNm = (more - shiftOf(light)) / (2 * step);
        return perNm * (layers[first + at]!.tooling ?? 1) * before[first + at]!.expectedErrorNm;
      }),
    );

  if (rule === 'turning-point') {
    const bend = light.bend(end) * tooling * tooling;
    const inheritedNm = handedOn((other) => other.slope(end) * tooling) / Math.abs(bend);
    const stepNm = rateNmPerS * noise.sampleS;
    const m = plan.window;
    const scatter = (sigma * Math.sqrt(12 / (m * (m * m - 1)))) / (Math.abs(bend) * stepNm);
    const off = endNm + plan.lagNm - thicknessNm + delayNm;
    const expectedErrorNm = Math.hypot(off, scatter, inheritedNm);
    return {
      wavelengthNm,
      signal,
      rule,
      expectedErrorNm,
      reason:
        `Turning point ${plan.turnNm.length} at ${wavelengthNm} nm in ${signal}: the layer ends within ${nm(Math.abs(endNm - thicknessNm))} of it, ` +
        `it is found ${nm(plan.lagNm)} late, about ±${nm(expectedErrorNm)}.`,
    };
  }

  const gain = Math.max(USUAL_GAIN, (noise.gainPercent ?? 0) / 100);
  const blur = (2 * sigma) / Math.sqrt(plan.window);
  // A rescaled level keeps the noise of its two extrema and loses the gain.
  const uncertain = rule === 'swing' ? blur * Math.sqrt(3) : Math.hypot(blur, gain * level);
  const clear = Math.min(Math.abs(near.highest - level), Math.abs(level - near.lowest));
  if (clear < CLEAR_OF_TURN * uncertain || clear < 0.1 * swing) return undefined;
  const inheritedNm = handedOn((other) => other.level(end)) / Math.abs(slope);
  const expectedErrorNm = Math.hypot(uncertain / slope, inheritedNm, delayNm);
  const share = percent((level - near.lowest) / swing);
  return {
    wavelengthNm,
    signal,
    rule,
    expectedErrorNm,
    reason:
      `${rule === 'swing' ? 'Rescaled level' : 'Level'} at ${wavelengthNm} nm in ${signal}: the cut lies ${share} up a swing of ${percent(swing)}, ` +
      `${turnsPassed(plan.turnNm.length)}, about ±${nm(expectedErrorNm)}.`,
  };
}

/**
 * The extrema of the branch on which the cut lies: turning points and start around it, looked for up to a half wave further;
 * in a film that carries no wave, up to twenty wavelengths, where its level stands.
 */
function levelsBeside(light: WitnessLight, end: number) {
  const beyond = end + 2 * Math.min(light.quarterWaveNm(), 10 * light.wavelengthNm[0]!);
  const marks = [
    { thicknessNm: 0, level: light.level(0) },
    ...turningPoints(light, beyond),
    { thicknessNm: beyond, level: light.level(beyond) },
  ];
  const after = marks.findIndex(({ thicknessNm }) => thicknessNm >= end);
  const [one, other] = [marks[after - 1]!.level, marks[after]!.level];
  return { lowest: Math.min(one, other), highest: Math.max(one, other) };
}

function turnsPassed(turns: number): string {
  if (turns === 0) return 'with no turning point before it';
  return turns === 1 ? 'one turning point on' : `${turns} turning points on`;
}

function percent(share: number): string {
  return `${(100 * share).toPrecision(2)} %`;
}

function nm(value: number): string {
  return `${value.toPrecision(2)} nm`;
}
