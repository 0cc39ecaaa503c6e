import { S_PER_MIN } from '../../base/constants.ts';
import { InputError } from '../../base/errors.ts';
import { duration, listed, significant } from '../../base/format.ts';
import { exposureFactor } from '../../chamber/conductance.ts';
import { pumpDown } from '../../chamber/pump-down.ts';
import { type RunLayer, type RunSchedule, type RunStep, scheduleRun } from '../../chamber/schedule.ts';
import type { Batch, MaterialProcess } from '../document.ts';
import { firingWords } from './firing-words.ts';
import { type HeatLimit, heatLimit, heldWords } from './heat-limit.ts';
import type { LayerPlan, RunPlan, StepPlan } from './plan-types.ts';

/** Minutes for which a chamber stands open between runs as a rule (common practice, no source). */
const NORMAL_EXPOSURE_MIN = 30;

/** No heater of a coating chamber is faster: a limit above this holds nothing back. */
const FASTEST_K_PER_MIN = 1000;

/** What the schedule needs to know of a layer beside its thickness. */
export interface ScheduledLayer extends LayerPlan {
  readonly process: MaterialProcess;
  /** Which pocket of the source it comes from, named so that a change of pocket can be seen. */
  readonly pocket: string;
  /** Whether the next crystal is turned in before this layer. */
  readonly crystalChange: boolean;
}

/**
 * The steps of one run with their times: load, pump and heat side by side, every layer, cool, vent, unload.
 * Cleaning belongs to the lot, not to the run.
 * @throws InputError where a pressure or a temperature cannot be reached, its path within the batch.
 */
export function planRun(
  document: Batch,
  layers: readonly ScheduledLayer[],
): Pick<RunPlan, 'steps' | 'totalS' | 'pumps' | 'pressure'> {
  const { chamber, process } = document;
  const { outgassing } = chamber;
  const pumping = withinPumps(() =>
    pumpDown({
      volumeM3: chamber.volumeM3,
      startPa: chamber.startPa,
      stages: chamber.pumps,
      ...(outgassing === undefined
        ? {}
        : {
            outgassing: {
              areaM2: outgassing.areaM2,
              rateAfter1hPaM3PerSM2:
                outgassing.rateAfter1hPaM3PerSM2 *
                exposureFactor(outgassing.exposureMin ?? NORMAL_EXPOSURE_MIN, NORMAL_EXPOSURE_MIN),
            },
          }),
    }),
  );
  const limit = heatLimit(document);
  const held =
    limit === undefined || limit.rateKPerMin > FASTEST_K_PER_MIN ? {} : { maxRateKPerMin: limit.rateKPerMin };
  const isHot = process.temperatureC > chamber.ambientC;
  const coolsTo = Math.min(process.temperatureC, chamber.ventBelowC);
  const schedule = withinProcess(() =>
    scheduleRun({
      loadS: process.loadMin * S_PER_MIN,
      pumpStages: chamber.pumps.map((stage, index) => ({
        label: `Pump, ${stage.name}, to ${significant(stage.untilPa, 2)} Pa`,
        durationS: pumping.stageS[index] ?? 0,
      })),
      ...(isHot
        ? { heating: { ...heatRamp(document), ...held, soakS: process.soakMin * S_PER_MIN, afterStages: 1 } }
        : {}),
      layers: layers.map(scheduled),
      pocketChangeS: process.pocketChangeS,
      crystalChangeS: chamber.crystals.changeS,
      ...(isHot && coolsTo < process.temperatureC
        ? {
            cooling: {
              fromC: process.temperatureC,
              toC: coolsTo,
              surroundingsC: chamber.ambientC,
              timeConstantS: chamber.coolTimeConstantMin * S_PER_MIN,
              ...held,
            },
          }
        : {}),
      ventS: process.ventMin * S_PER_MIN,
      unloadS: process.unloadMin * S_PER_MIN,
      cleanS: 0,
    }),
  );
  return {
    steps: schedule.steps.map((step) => explained(step, document, layers, schedule, limit)),
    totalS: schedule.totalS,
    pumps: chamber.pumps.map(({ name }, index) => ({
      name,
      durationS: pumping.stageS[index]!,
      speedsM3PerS: pumping.speedsM3PerS[index]!,
    })),
    pressure: {
      timeS: Float64Array.from(pumping.profile, ({ timeS }) => timeS),
      pressurePa: Float64Array.from(pumping.profile, ({ pressurePa }) => pressurePa),
    },
  };
}

/** The pump-down calls the batch's pumps stages. */
function withinPumps<Result>(compute: () => Result): Result {
  try {
    return compute();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(`chamber.${error.path.replace(/^stages/, 'pumps')}`, error.reason);
  }
}

/** The schedule's own names of what the batch keeps elsewhere. */
function withinProcess<Result>(compute: () => Result): Result {
  try {
    return compute();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const path = error.path.startsWith('heating')
      ? 'process.temperatureC'
      : error.path.startsWith('cooling')
        ? 'chamber.ventBelowC'
        : `process.${error.path}`;
    throw new InputError(path, error.reason);
  }
}

function heatRamp({ chamber, process }: Batch) {
  return {
    fromC: chamber.ambientC,
    toC: process.temperatureC,
    surroundingsC: chamber.heaterC,
    timeConstantS: chamber.heatTimeConstantMin * S_PER_MIN,
  };
}

function scheduled(layer: ScheduledLayer, index: number): RunLayer {
  const { process } = layer;
  return {
    label: `Layer ${index + 1}, ${layer.label}`,
    thicknessNm: layer.thicknessNm,
    rateNmPerS: process.rateNmPerS,
    tooling: 1 / process.crystalTooling,
    rampS: process.rampS,
    soakS: process.soakS,
    shutterDelayS: process.shutterDelayS,
    pocket: layer.pocket,
    backfillSettleS: process.oxygenPa > 0 ? process.oxygenSettleS : 0,
    crystalChange: layer.crystalChange,
  };
}

function explained(
  step: RunStep,
  document: Batch,
  layers: readonly ScheduledLayer[],
  { criticalPath }: RunSchedule,
  limit: HeatLimit | undefined,
): StepPlan {
  const layer = step.layerIndex === undefined ? undefined : layers[step.layerIndex];
  return {
    id: step.id,
    label: step.label,
    kind: step.kind,
    ...(step.layerIndex === undefined ? {} : { layerIndex: step.layerIndex }),
    startS: step.startS,
    durationS: step.durationS,
    critical: criticalPath.includes(step.id),
    limitedBy: reason(step, document, layer, limit),
  };
}

/** What sets a step's duration, in a few words. */
function reason(
  step: RunStep,
  { chamber, process }: Batch,
  layer: ScheduledLayer | undefined,
  limit: HeatLimit | undefined,
): string {
  const slack = step.slackS > 1 ? `; ${duration(step.slackS)} to spare` : '';
  switch (step.kind) {
    case 'pump':
      return `pump speed, gas load and outgassing${slack}`;
    case 'heat':
      return `time constant ${chamber.heatTimeConstantMin} min, heaters at ${chamber.heaterC} °C${heldWords(limit, (chamber.heaterC - chamber.ambientC) / chamber.heatTimeConstantMin)}${slack}`;
    case 'cool':
      return `time constant ${chamber.coolTimeConstantMin} min, down to ${chamber.ventBelowC} °C${heldWords(limit, (process.temperatureC - chamber.ambientC) / chamber.coolTimeConstantMin)}`;
    case 'soak':
      return `evenness of the lenses, ${process.soakMin} min`;
    case 'deposit':
      return layer === undefined
        ? 'rate'
        : listed([
            `${significant(layer.process.rateNmPerS, 2)} nm/s${layer.process.partner === undefined ? '' : `, ${firingWords(layer.process)} together`}`,
            ...(layer.process.crystalTooling === 1 ? [] : [`tooling ${layer.process.crystalTooling}`]),
          ]);
    case 'backfill':
      return layer === undefined ? 'gas' : `oxygen to ${significant(layer.process.oxygenPa, 2)} Pa${slack}`;
    default:
      return `setting${slack}`;
  }
}
