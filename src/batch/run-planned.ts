import { S_PER_MIN } from '../base/constants.ts';
import { isOptical } from '../monitor/cut-rule.ts';
import type { Batch, RunRecord, Side, Surface } from './document.ts';
import { fingerprintOf, shortFingerprint } from './fingerprint.ts';
import { processOf } from './plan/film-facts.ts';
import { lensesOfLoad } from './plan/load-rows.ts';
import { layerSettings } from './plan/monitored-layers.ts';
import type { Plan, StepPlan } from './plan/plan-types.ts';
import type { RunPlanned, Sensor } from './run-record.ts';
import { coatedSides } from './sides.ts';

/** The coating of a side, the front's where the side has none of its own. */
export function coatingOf({ surfaces }: Batch, side: Side): Surface {
  return side === 'back' && typeof surfaces.back === 'object' ? surfaces.back : surfaces.front;
}

/** What a run of one side is planned to be now, as its record keeps it; undefined where that side gets no coating. */
export function plannedRun(batch: Batch, plan: Plan, side: Side): RunPlanned | undefined {
  const run = plan.runs.find((one) => one.side === side);
  const coated = coatedSides(batch).find((one) => one.side === side);
  if (run === undefined || coated === undefined) return undefined;
  const ids = [...new Set(coated.surface.layers.map(({ material }) => material))];
  return {
    fingerprint: shortFingerprint(fingerprintOf(batch)),
    layers: plannedLayers(batch, coated.surface),
    tooling: Object.fromEntries(
      ids.map((id) => {
        const { source, crystalTooling, witnessTooling } = processOf(batch, id);
        return [id, { source, crystal: crystalTooling, witness: witnessTooling }];
      }),
    ),
    ...(batch.process.aimPercent === undefined ? {} : { aimPercent: batch.process.aimPercent }),
    lenses: lensesOfLoad(plan.lot.rows, 1),
    pumpMin: spanMin(run.steps, ({ kind }) => kind === 'pump'),
    heatMin: spanMin(run.steps, ({ kind }) => kind === 'heat' || kind === 'soak'),
    coatMin: spanMin(run.steps, ({ layerIndex }) => layerIndex !== undefined),
    coolMin: spanMin(run.steps, ({ kind }) => kind === 'cool'),
    totalMin: inMinutes(run.totalS),
  };
}

/** Whether the coating or its aim has been changed since the run was logged; undefined where its plan was not kept. */
export function isStackChanged(batch: Batch, { planned, side }: RunRecord): boolean | undefined {
  if (planned === undefined) return undefined;
  const now = plannedLayers(batch, coatingOf(batch, side));
  return (
    (batch.process.aimPercent ?? 0) !== (planned.aimPercent ?? 0) ||
    now.length !== planned.layers.length ||
    now.some(
      ({ material, thicknessNm }, place) =>
        material !== planned.layers[place]!.material || thicknessNm !== planned.layers[place]!.thicknessNm,
    )
  );
}

/** The coating that a run was to make: its kept layers under the side's requirements of today. */
export function coatingAsRun(batch: Batch, { planned, side }: RunRecord): Surface {
  const surface = coatingOf(batch, side);
  if (planned === undefined) return surface;
  return {
    ...surface,
    layers: planned.layers.map(({ material, thicknessNm }, place) => ({
      id: `run-${place + 1}`,
      material,
      thicknessNm,
    })),
  };
}

/** The batch with the aim that a run was made by, where its plan was kept. */
export function aimedAsRun(batch: Batch, { planned }: RunRecord): Batch {
  if (planned === undefined) return batch;
  const { aimPercent: _, ...process } = batch.process;
  const aim = planned.aimPercent === undefined ? {} : { aimPercent: planned.aimPercent };
  return { ...batch, process: { ...process, ...aim } };
}

/** The layers with what ends each by the monitor's rules; a layer cut by time is paced by the crystal. */
export function plannedLayers({ monitor }: Batch, { layers }: Surface): RunPlanned['layers'] {
  return layers.map(({ id, material, thicknessNm }) => ({
    material,
    thicknessNm,
    sensor: sensorOf(layerSettings(monitor, id).rule),
  }));
}

function sensorOf(rule: Parameters<typeof isOptical>[0]): Sensor {
  return isOptical(rule) ? 'witness' : 'crystal';
}

/** From the first start to the last end of the steps that count, 0 where there are none. */
function spanMin(steps: readonly StepPlan[], counts: (step: StepPlan) => boolean): number {
  const counted = steps.filter(counts);
  if (counted.length === 0) return 0;
  const from = Math.min(...counted.map(({ startS }) => startS));
  return inMinutes(Math.max(...counted.map(({ startS, durationS }) => startS + durationS)) - from);
}

function inMinutes(seconds: number): number {
  return Math.round((10 * seconds) / S_PER_MIN) / 10;
}
