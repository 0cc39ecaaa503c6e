import { InputError } from '../base/errors.ts';
import type { Batch } from '../batch/document.ts';
import { computePlan } from '../batch/plan/plan.ts';
import type { Plan } from '../batch/plan/plan-types.ts';
import { plansAlike } from '../batch/run-changes.ts';

/** What the chain said to a batch: a plan, or the sentence why there is none. */
export interface PlanOutcome {
  readonly plan: Plan | undefined;
  readonly fault: InputError | undefined;
}

/** Documents whose plans are kept: more than a reader walks back and forth between, fewer than the history of a day holds. */
const MOST_KEPT = 32;

/** Plans of the documents that were looked at last. A plan follows from its document alone; the run log changes none. */
export class PlanBook {
  readonly #outcomes = new Map<Batch, PlanOutcome>();
  readonly #compute: (batch: Batch) => Plan;

  /** `compute` is an argument so that tests can count its calls. */
  constructor(compute: (batch: Batch) => Plan = computePlan) {
    this.#compute = compute;
  }

  /** The plan of a document, computed now where it is not known. Faults of the program itself are thrown. */
  of(batch: Batch): PlanOutcome {
    const outcome = this.#outcomes.get(batch) ?? this.#asLatest(batch) ?? this.#ask(batch);
    this.#outcomes.delete(batch);
    this.#outcomes.set(batch, outcome);
    if (this.#outcomes.size > MOST_KEPT) this.#outcomes.delete(this.#outcomes.keys().next().value!);
    return outcome;
  }

  /** The plan of the document that was looked at last, where it is this one's too. */
  #asLatest(batch: Batch): PlanOutcome | undefined {
    const latest = [...this.#outcomes.keys()].at(-1);
    return latest !== undefined && plansAlike(latest, batch) ? this.#outcomes.get(latest) : undefined;
  }

  #ask(batch: Batch): PlanOutcome {
    try {
      return { plan: this.#compute(batch), fault: undefined };
    } catch (error) {
      if (error instanceof InputError) return { plan: undefined, fault: error };
      throw error;
    }
  }
}
