import type { Batch, MaterialProcess, RunRecord, ToolingCorrection } from '../../../batch/document.ts';
import { processOf } from '../../../batch/plan/film-facts.ts';
import { coatingOf, plannedLayers } from '../../../batch/run-planned.ts';
import type { RunPlanned, Sensor } from '../../../batch/run-record.ts';
import type { LayerFactors } from '../../../inspect/predict-coating.ts';
import { correctedTooling } from '../../../inspect/tooling-correction.ts';
import { plain } from '../order/requirement-edits.ts';
import type { FittedFactor } from './fit-desk.ts';

const SENSORS = ['crystal', 'witness'] as const;

/** A material's fitted factor is told apart from 1 where it differs by this many standard deviations. */
const TELLING = 2;

/** Materials of a coating in the order in which they first appear, as the fit counts them. */
export function materialsOf({ layers }: { readonly layers: readonly { readonly material: string }[] }) {
  return [...new Set(layers.map(({ material }) => material))];
}

/** The layers that a run was to make and what ended each; those of today where its plan was not kept. */
export function layersOf(batch: Batch, { planned, side }: RunRecord): RunPlanned['layers'] {
  return planned?.layers ?? plannedLayers(batch, coatingOf(batch, side));
}

/** Whether the fit tells the factor from 1, so that a correction is worth while. */
export function isTelling({ thicknessFactor, sigma }: FittedFactor): boolean {
  return Math.abs(thicknessFactor - 1) > TELLING * sigma;
}

/**
 * The tooling that a fit by materials asks for, of the sensors that ended the layers. `factors` are those of `materialsOf`, in
 * that order. A run whose plan was not kept is taken to have been made by the tooling that the batch holds now.
 */
export function correctionsFor(
  batch: Batch,
  run: RunRecord,
  factors: readonly FittedFactor[],
): ToolingCorrection[] {
  const layers = layersOf(batch, run);
  return materialsOf({ layers }).flatMap((material, place) => {
    const factor = factors[place];
    if (factor === undefined) return [];
    const source = run.planned?.tooling[material]?.source ?? processOf(batch, material).source;
    const used = SENSORS.filter((sensor) =>
      layers.some((layer) => layer.material === material && layer.sensor === sensor),
    );
    return used.map((sensor) => {
      const before = toolingOfRun(batch, run, material, sensor);
      const { tooling, sigma } = correctedTooling(before, factor.thicknessFactor, factor.sigma);
      return { material, source, sensor, before, after: tooling, sigma };
    });
  });
}

/** Puts corrections into the batch's process and keeps them with the run they come from, `noted` ones there only. */
export function carryInto(
  draft: Batch,
  batch: Batch,
  runId: RunRecord['id'],
  corrections: readonly ToolingCorrection[],
  noted: readonly ToolingCorrection[] = [],
): void {
  for (const { material, sensor, after } of corrections) {
    draft.process.materials[material] ??= plain(processOf(batch, material));
    draft.process.materials[material][TOOLING[sensor]] = after;
  }
  const run = draft.runs.find(({ id }) => id === runId);
  if (run === undefined) return;
  run.corrections = plain([
    ...corrections.map((correction) => ({ ...correction })),
    ...noted.map((correction) => ({ ...correction, noted: true })),
  ]);
}

/**
 * How the layers of the next run are expected to differ from the stack of today: a sensor that is told another tooling
 * changes its layers in proportion; index factors stay. `factors` are those of the run's materials in their order.
 */
export function nextRunFactors(
  batch: Batch,
  run: RunRecord,
  factors: readonly FittedFactor[],
  taken: readonly ToolingCorrection[],
): LayerFactors[] {
  const ids = materialsOf({ layers: layersOf(batch, run) });
  return plannedLayers(batch, coatingOf(batch, run.side)).map(({ material, sensor }) => {
    const factor = factors[ids.indexOf(material)];
    if (factor === undefined) return { thicknessFactor: 1 };
    const correction = taken.find((one) => one.material === material && one.sensor === sensor);
    const next = correction?.after ?? processOf(batch, material)[TOOLING[sensor]];
    return {
      thicknessFactor: (factor.thicknessFactor * next) / toolingOfRun(batch, run, material, sensor),
      ...(factor.indexFactor === undefined ? {} : { indexFactor: factor.indexFactor }),
    };
  });
}

const TOOLING = { crystal: 'crystalTooling', witness: 'witnessTooling' } as const satisfies Record<
  Sensor,
  keyof MaterialProcess
>;

/** The tooling by which a run was made: that of its kept plan, else what the correction in its record says, else today's. */
function toolingOfRun(batch: Batch, run: RunRecord, material: string, sensor: Sensor): number {
  return (
    run.planned?.tooling[material]?.[sensor] ??
    run.corrections?.find((one) => one.material === material && one.sensor === sensor)?.before ??
    processOf(batch, material)[TOOLING[sensor]]
  );
}
