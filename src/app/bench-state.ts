import type { Batch, Side } from '../batch/document.ts';
import type { Plan, YieldPlan } from '../batch/plan/plan-types.ts';
import type { Notice } from './notice.ts';
import type { PlanOutcome } from './plan-book.ts';
import type { Preferences } from './preferences.ts';
import type { SaveState } from './storage/autosave.ts';

/** A figure that takes longer than a frame: the newest answer, and whether it is still the one of this batch. */
export interface HeavyState<Answer> {
  readonly answer: Answer | undefined;
  /** The answer that was valid before the last edit, to show the change against. */
  readonly before: Answer | undefined;
  readonly isUpdating: boolean;
  readonly fault: string | undefined;
  /** Whether the fault is the worker's, not the batch's: asking again may help. */
  readonly isBroken?: boolean;
}

/** Everything that the screen shows, as one value that is replaced as a whole. */
export interface BenchState {
  readonly batch: Batch;
  /** The batch before the last step; the same one right after opening. */
  readonly batchBefore: Batch;
  /** The name of the last step, '' right after opening. */
  readonly step: string;
  readonly outcome: PlanOutcome;
  /** The plan of this batch, or the last good one while this batch has none (`isStale`). */
  readonly plan: Plan | undefined;
  readonly planBefore: Plan | undefined;
  readonly isStale: boolean;
  readonly yields: HeavyState<YieldPlan>;
  readonly side: Side;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  readonly saving: SaveState;
  readonly notices: readonly Notice[];
  /** Edits that were refused, by the field's path: the sentence that stands beside the field. */
  readonly refusals: ReadonlyMap<string, string>;
  readonly preferences: Preferences;
}
