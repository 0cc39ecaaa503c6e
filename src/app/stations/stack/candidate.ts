import { InputError } from '../../../base/errors.ts';
import type { Batch, Layer, Side } from '../../../batch/document.ts';
import { IndexBook } from '../../../batch/plan/index-of.ts';
import { computePlan } from '../../../batch/plan/plan.ts';
import type { SurfacePlan } from '../../../batch/plan/plan-types.ts';
import { planSurface } from '../../../batch/plan/surface-plan.ts';
import { plain, surfaceOf } from '../order/requirement-edits.ts';

/** A stack to compare with others and to take or leave. */
export interface Candidate {
  readonly name: string;
  readonly layers: readonly Omit<Layer, 'id'>[];
  /** The side's plan with these layers. */
  readonly plan: SurfacePlan;
  /** The search's figure of merit, the lower the better; undefined for stacks that no search has rated. */
  readonly merit: number | undefined;
  /** How long one run with this stack takes, in seconds; undefined where the chamber can't make it. */
  readonly runS: number | undefined;
  /** What a closed form is, and where it comes from. */
  readonly form?: ClosedForm;
}

export interface ClosedForm {
  readonly kind: string;
  readonly source: string;
}

/** A stack in the order of deposition, to be made a candidate of. */
export interface Sketch {
  readonly layers: readonly Omit<Layer, 'id'>[];
  readonly merit?: number;
  readonly form?: ClosedForm;
}

/** Holds stacks against a side's requirements and plans a run with each. */
export function candidatesFrom(batch: Batch, side: Side, sketches: readonly Sketch[]): Candidate[] {
  const book = new IndexBook(batch.materials);
  return sketches.map((sketch, place): Candidate => {
    const { merit, ...rest } = sketch;
    const name = `Stack ${String.fromCharCode(65 + place)}`;
    const plan = sketchPlan(batch, side, sketch, book);
    return { ...rest, name, merit, plan, runS: runSecondsOf(batch, side, sketch.layers) };
  });
}

/** The side's plan with other layers. */
export function sketchPlan(
  batch: Batch,
  side: Side,
  sketch: Pick<Sketch, 'layers'>,
  book: IndexBook,
): SurfacePlan {
  const surface = surfaceOf(batch, side) ?? batch.surfaces.front;
  const layers = sketch.layers.map((layer, index) => ({ id: `${side[0]}${index + 1}`, ...layer }));
  return { side, own: true, ...planSurface(batch, { surface: { ...surface, layers } }, book) };
}

/** Time of one run of the side with other layers, undefined where no run can be planned. */
function runSecondsOf(batch: Batch, side: Side, layers: Candidate['layers']): number | undefined {
  const other = structuredClone(plain(batch)) as Batch;
  const surface = surfaceOf(other, side);
  if (surface === undefined) return undefined;
  surface.layers = layers.map((layer, index) => ({ id: `candidate-${index + 1}`, ...layer }));
  other.monitor.layers = {};
  other.runs = [];
  try {
    return computePlan(other).runs.find((run) => run.side === side)?.totalS;
  } catch (error) {
    if (error instanceof InputError) return undefined;
    throw error;
  }
}

/** How far the requirements are from being met, the worst of them; below zero: all are met. */
export function shortfall({ requirements }: SurfacePlan): number {
  if (requirements.length === 0) return 0;
  return Math.max(
    ...requirements.map(({ marginPercent, limitPercent }) => -marginPercent / Math.max(limitPercent, 0.01)),
  );
}
