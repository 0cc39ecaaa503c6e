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

/** Plans of the documents that are at hand. A plan follows from its document alone, so each is computed once; the run log changes none. */
export class PlanBook {
  readonly #outcomes = new WeakMap<Batch, PlanOutcome>();
  readonly #compute: (batch: Batch) => Plan;
  #latest: Batch | undefined;

  /** `compute` is an argument so that tests can count its calls. */
  constructor(compute: (batch: Batch) => Plan = computePlan) {
    this.#compute = compute;
  }

  /** The plan of a document, computed now where it is not known yet. Faults of the program itself are thrown. */
  of(batch: Batch): PlanOutcome {
    const known = this.#outcomes.get(batch);
    if (known !== undefined) return known;
    const latest = this.#latest;
    const outcome =
      latest !== undefined && plansAlike(latest, batch) ? this.#outcomes.get(latest)! : this.#ask(batch);
    this.#latest = batch;
    this.#outcomes.set(batch, outcome);
    return outcome;
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
