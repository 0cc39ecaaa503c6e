import { atPath, InputError, requireWithin } from '../base/errors.ts';
import { rampDurationS, type ThermalRamp } from './heating.ts';
import { timeNetwork } from './step-network.ts';

export interface RunHeating extends ThermalRamp {
  /** Time at temperature before the first layer. */
  readonly soakS: number;
  /** Heaters go on when so many pump stages are done: 0 with the first pump, default after the last. */
  readonly afterStages?: number;
}

export interface RunLayer {
  /** How the layer is called in the steps, e.g. "2 TiO2". */
  readonly label: string;
  readonly thicknessNm: number;
  readonly rateNmPerS: number;
  /** Thickness on the lens over thickness where the rate is held, default 1. */
  readonly tooling?: number;
  /** Raising the source's power. */
  readonly rampS: number;
  /** Holding it below the rate until the melt is even. */
  readonly soakS: number;
  /** From the command to open the shutter to film on the lens. */
  readonly shutterDelayS: number;
  /** The crucible or boat that the layer comes from; a change costs `pocketChangeS`. */
  readonly pocket?: string;
  /** Oxygen (or other gas) let in until the pressure is steady; 0 or left out: none. */
  readonly backfillSettleS?: number;
  /** Whether the next crystal is turned in before this layer. */
  readonly crystalChange?: boolean;
}

/** A coating run in plain figures; a duration of 0 leaves its step out. */
export interface RunDescription {
  readonly loadS: number;
  readonly pumpStages: readonly { readonly label: string; readonly durationS: number }[];
  readonly heating?: RunHeating;
  readonly layers: readonly RunLayer[];
  readonly pocketChangeS: number;
  readonly crystalChangeS: number;
  readonly cooling?: ThermalRamp;
  readonly ventS: number;
  readonly unloadS: number;
  /** Cleaning, liners, refilling before the next run. */
  readonly cleanS: number;
}

export type StepKind =
  | 'load'
  | 'pump'
  | 'heat'
  | 'soak'
  | 'pocket'
  | 'crystal'
  | 'backfill'
  | 'ramp'
  | 'source-soak'
  | 'shutter'
  | 'deposit'
  | 'cool'
  | 'vent'
  | 'unload'
  | 'clean';

export interface RunStep {
  readonly id: string;
  readonly label: string;
  readonly kind: StepKind;
  /** Index into the layers where the step belongs to one. */
  readonly layerIndex?: number;
  readonly startS: number;
  readonly durationS: number;
  readonly waitsFor: readonly string[];
  /** The id of the step whose end lets this one begin; left out for the first. */
  readonly limitedBy?: string;
  /** How much longer the step may take before the run takes longer: 0 on the critical path. */
  readonly slackS: number;
}

export interface RunSchedule {
  /** By start, then by the order of work. */
  readonly steps: readonly RunStep[];
  readonly totalS: number;
  /** Ids along the path that decides the total. */
  readonly criticalPath: readonly string[];
}

/**
 * The steps of a run with their times. What can go on side by side does: heating while the pumps work, gas
 * settling and source ramping together; each layer waits for both. Everything else follows in order.
 * @throws InputError for a negative time, a rate of 0, or a temperature that cannot be reached.
 */
export function scheduleRun(run: RunDescription): RunSchedule {
  const plan = new Plan();
  requireTimes(run);
  let ready = plan.add('load', 'Load the chamber', 'load', run.loadS, []);
  const heating = run.heating;
  const afterStages = heating?.afterStages ?? run.pumpStages.length;
  if (heating !== undefined) {
    requireWithin('heating.afterStages', afterStages, '', { min: 0, max: run.pumpStages.length });
    requireWithin('heating.soakS', heating.soakS, 's', { min: 0, max: 1e6 });
  }
  let warm: readonly string[] = [];
  for (let stage = 0; stage <= run.pumpStages.length; stage++) {
    if (heating !== undefined && stage === afterStages) {
      const durationS = within('heating', () => rampDurationS(heating));
      warm = plan.add('heat', `Heat to ${heating.toC} °C`, 'heat', durationS, ready);
      warm = plan.add('soak', `Soak at ${heating.toC} °C`, 'soak', heating.soakS, warm);
    }
    const pump = run.pumpStages[stage];
    if (pump !== undefined) ready = plan.add(`pump-${stage + 1}`, pump.label, 'pump', pump.durationS, ready);
  }
  ready = [...ready, ...warm];
  run.layers.forEach((layer, index) => {
    ready = addLayer(plan, run, layer, index, ready);
  });
  const cooling = run.cooling;
  if (cooling !== undefined) {
    const durationS = within('cooling', () => rampDurationS(cooling));
    ready = plan.add('cool', `Cool to ${cooling.toC} °C`, 'cool', durationS, ready);
  }
  ready = plan.add('vent', 'Vent', 'vent', run.ventS, ready);
  ready = plan.add('unload', 'Unload', 'unload', run.unloadS, ready);
  plan.add('clean', 'Clean and prepare the next run', 'clean', run.cleanS, ready);
  return plan.timed();
}

/** Time with the shutter open, s: thickness over rate on the lens. */
export function depositionS(layer: Pick<RunLayer, 'thicknessNm' | 'rateNmPerS' | 'tooling'>): number {
  return layer.thicknessNm / (layer.rateNmPerS * (layer.tooling ?? 1));
}

function addLayer(
  plan: Plan,
  run: RunDescription,
  layer: RunLayer,
  layerIndex: number,
  ready: readonly string[],
): readonly string[] {
  const id = (name: string) => `layer-${layerIndex + 1}-${name}`;
  const add = (name: string, what: string, kind: StepKind, durationS: number, waitsFor: readonly string[]) =>
    plan.add(id(name), `${layer.label}: ${what}`, kind, durationS, waitsFor, layerIndex);
  const pocketBefore = run.layers[layerIndex - 1]?.pocket;
  const turned = layerIndex > 0 && layer.pocket !== undefined && layer.pocket !== pocketBefore;
  const source = turned
    ? add('pocket', `turn to pocket ${layer.pocket}`, 'pocket', run.pocketChangeS, ready)
    : ready;
  const crystal =
    layer.crystalChange === true
      ? add('crystal', 'change the crystal', 'crystal', run.crystalChangeS, ready)
      : ready;
  const gas = add('backfill', 'let the gas settle', 'backfill', layer.backfillSettleS ?? 0, ready);
  const ramped = add('ramp', 'raise the power', 'ramp', layer.rampS, source);
  const soaked = add('source-soak', 'soak the source', 'source-soak', layer.soakS, ramped);
  const together = [...new Set([...soaked, ...gas, ...crystal])];
  const open = add('shutter', 'open the shutter', 'shutter', layer.shutterDelayS, together);
  return add('deposit', 'deposit', 'deposit', depositionS(layer), open);
}

interface Planned {
  readonly id: string;
  readonly label: string;
  readonly kind: StepKind;
  readonly durationS: number;
  readonly waitsFor: readonly string[];
  readonly layerIndex?: number;
}

/** Collects steps; one of no duration is passed over, and what waited for it waits for what it waited for. */
class Plan {
  readonly #planned: Planned[] = [];

  add(
    id: string,
    label: string,
    kind: StepKind,
    durationS: number,
    waitsFor: readonly string[],
    layerIndex?: number,
  ): readonly string[] {
    if (durationS === 0) return waitsFor;
    const step = { id, label, kind, durationS, waitsFor };
    this.#planned.push(layerIndex === undefined ? step : { ...step, layerIndex });
    return [id];
  }

  timed(): RunSchedule {
    const timings = timeNetwork(this.#planned);
    const steps = this.#planned.map((step): RunStep => {
      const timing = timings.get(step.id)!;
      const { startS, limitedBy, slackS } = timing;
      return { ...step, startS, slackS, ...(limitedBy === undefined ? {} : { limitedBy }) };
    });
    const totalS = Math.max(0, ...steps.map((step) => step.startS + step.durationS));
    const criticalPath: string[] = [];
    let at = steps.find((step) => step.startS + step.durationS === totalS);
    while (at !== undefined) {
      criticalPath.unshift(at.id);
      const before = at.limitedBy;
      at = steps.find((step) => step.id === before);
    }
    return { steps: steps.sort((a, b) => a.startS - b.startS), totalS, criticalPath };
  }
}

function requireTimes(run: RunDescription): void {
  const time = { min: 0, max: 1e6 };
  requireWithin('loadS', run.loadS, 's', time);
  requireWithin('pocketChangeS', run.pocketChangeS, 's', time);
  requireWithin('crystalChangeS', run.crystalChangeS, 's', time);
  requireWithin('ventS', run.ventS, 's', time);
  requireWithin('unloadS', run.unloadS, 's', time);
  requireWithin('cleanS', run.cleanS, 's', time);
  run.pumpStages.forEach((stage, index) => {
    requireWithin(`pumpStages[${index}].durationS`, stage.durationS, 's', { min: 0, max: 1e7 });
  });
  run.layers.forEach((layer, index) => {
    const at = `layers[${index}]`;
    requireWithin(`${at}.thicknessNm`, layer.thicknessNm, 'nm', { min: 0, max: 1e7 });
    requireWithin(`${at}.rateNmPerS`, layer.rateNmPerS, 'nm/s', { above: 0, max: 1e4 });
    requireWithin(`${at}.tooling`, layer.tooling ?? 1, '', { min: 0.001, max: 1000 });
    requireWithin(`${at}.rampS`, layer.rampS, 's', time);
    requireWithin(`${at}.soakS`, layer.soakS, 's', time);
    requireWithin(`${at}.shutterDelayS`, layer.shutterDelayS, 's', time);
    requireWithin(`${at}.backfillSettleS`, layer.backfillSettleS ?? 0, 's', time);
  });
}

/** Runs `compute`; a fault is told as one inside `place`. */
function within<T>(place: string, compute: () => T): T {
  try {
    return compute();
  } catch (error) {
    throw error instanceof InputError ? atPath(place, error) : error;
  }
}
