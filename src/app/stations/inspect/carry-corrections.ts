import type { Batch, RunRecord, Surface, ToolingCorrection } from '../../../batch/document.ts';
import { processOf } from '../../../batch/plan/film-facts.ts';
import { correctedTooling } from '../../../inspect/tooling-correction.ts';
import { isOptical } from '../../../monitor/cut-rule.ts';
import { plain } from '../order/requirement-edits.ts';
import type { FittedFactor } from './fit-desk.ts';

export const SENSORS = ['crystal', 'witness'] as const;
export type Sensor = (typeof SENSORS)[number];

/** A material's fitted factor is told apart from 1 where it differs by this many standard deviations. */
const TELLING = 2;

/** Materials of a side in the order in which they first appear, as the fit counts them. */
export function materialsOf({ layers }: Surface): string[] {
  return [...new Set(layers.map(({ material }) => material))];
}

/** What ended the layers of a material by the batch's monitor plan: the witness's light, the crystal, or both. */
export function sensorsOf({ monitor }: Batch, { layers }: Surface, material: string): Sensor[] {
  const rules = layers
    .filter((layer) => layer.material === material)
    .map(({ id }) => monitor.layers[id]?.rule ?? monitor.rule);
  return SENSORS.filter((sensor) => rules.some((rule) => isOptical(rule) === (sensor === 'witness')));
}

/** Whether the fit tells the factor from 1, so that a correction is worth while. */
export function isTelling({ thicknessFactor, sigma }: FittedFactor): boolean {
  return Math.abs(thicknessFactor - 1) > TELLING * sigma;
}

/**
 * The tooling that a fit by materials asks for, of the sensors that ended the layers. `factors` are those of `materialsOf`, in
 * that order; the run is taken to have been made by the tooling that the batch holds now.
 */
export function correctionsFor(
  batch: Batch,
  surface: Surface,
  factors: readonly FittedFactor[],
): ToolingCorrection[] {
  return materialsOf(surface).flatMap((material, place) => {
    const factor = factors[place];
    if (factor === undefined) return [];
    const process = processOf(batch, material);
    return sensorsOf(batch, surface, material).map((sensor) => {
      const before = process[toolingOf(sensor)];
      const { tooling, sigma } = correctedTooling(before, factor.thicknessFactor, factor.sigma);
      return { material, sensor, before, after: tooling, sigma };
    });
  });
}

/** Puts corrections into the batch's process and keeps them with the run they come from. */
export function carryInto(
  draft: Batch,
  batch: Batch,
  runId: RunRecord['id'],
  corrections: readonly ToolingCorrection[],
): void {
  for (const { material, sensor, after } of corrections) {
    draft.process.materials[material] ??= plain(processOf(batch, material));
    draft.process.materials[material][toolingOf(sensor)] = after;
  }
  const run = draft.runs.find(({ id }) => id === runId);
  if (run !== undefined) run.corrections = plain(corrections.map((correction) => ({ ...correction })));
}

function toolingOf(sensor: Sensor): 'crystalTooling' | 'witnessTooling' {
  return sensor === 'crystal' ? 'crystalTooling' : 'witnessTooling';
}
