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
    substrate: batch.order.lens.substrate,
    incident: coated.surface.incident,
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

/**
 * The batch as it was planned when a run was logged: glass, layers and the medium in front of them on the run's side, and
 * the aim. Requirements are those of today, since the drawing rules, and so is what the record does not keep.
 */
export function batchAsRun(batch: Batch, { planned, side }: RunRecord): Batch {
  if (planned === undefined) return batch;
  const { order, process, surfaces } = batch;
  const { aimPercent: _, ...plainProcess } = process;
  const coating = coatingOf(batch, side);
  const asRun: Surface = {
    ...coating,
    ...(planned.incident === undefined ? {} : { incident: planned.incident }),
    layers: planned.layers.map(({ material, thicknessNm, grading }, place) => ({
      ...{ id: `run-${place + 1}`, material, thicknessNm },
      ...(grading === undefined ? {} : { grading }),
    })),
  };
  return {
    ...batch,
    order: { ...order, lens: { ...order.lens, substrate: planned.substrate ?? order.lens.substrate } },
    process: {
      ...plainProcess,
      ...(planned.aimPercent === undefined ? {} : { aimPercent: planned.aimPercent }),
    },
    surfaces: { ...surfaces, [coating === surfaces.front ? 'front' : 'back']: asRun },
  };
}

/** The coating that a run was to make: its kept layers under the side's requirements of today. */
export function coatingAsRun(batch: Batch, run: RunRecord): Surface {
  return coatingOf(batchAsRun(batch, run), run.side);
}

/** The layers with what ends each by the monitor's rules; a layer cut by time is paced by the crystal. */
export function plannedLayers({ monitor }: Batch, { layers }: Surface): RunPlanned['layers'] {
  return layers.map(({ id, material, thicknessNm, grading }) => ({
    ...{ material, thicknessNm, sensor: sensorOf(layerSettings(monitor, id).rule) },
    ...(grading === undefined ? {} : { grading }),
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
