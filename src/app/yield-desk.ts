import type { Batch } from '../batch/document.ts';
import type { YieldPlan } from '../batch/plan/plan-types.ts';
import { plansAlike } from '../batch/run-changes.ts';
import { WorkerFault } from '../compute/task-client.ts';
import type { HeavyState } from './bench-state.ts';

/** Computes a yield; rejects when aborted or where it has no answer. */
export type YieldCall = (batch: Batch, signal: AbortSignal) => Promise<YieldPlan>;

/** An edit is followed by the question for its yield after this pause, so that dragging asks once. */
const PAUSE_MS = 150;

/**
 * Asks for the yield of the newest batch, one question at a time: a newer one ends the older, and what was known is shown
 * as out of date until the answer is there.
 */
export class YieldDesk {
  #call: YieldCall | undefined;
  #asked: AbortController | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #wanted: Batch | undefined;
  #state: HeavyState<YieldPlan> = {
    answer: undefined,
    before: undefined,
    isUpdating: false,
    fault: undefined,
  };
  readonly #changed: () => void;

  constructor(changed: () => void) {
    this.#changed = changed;
  }

  get state(): HeavyState<YieldPlan> {
    return this.#state;
  }

  /** Gives the desk somebody to ask; what waits is asked at once. */
  connect(call: YieldCall): void {
    this.#call = call;
    if (this.#wanted !== undefined) this.ask(this.#wanted);
  }

  /**
   * Asks for the yield of an edited batch, but where it is planned as the one that was asked for last. What was asked for counts,
   * not what the edit changed: one that takes an edit back as it is typed changes nothing in the end.
   */
  follow(batch: Batch): void {
    if (this.#wanted === undefined || !plansAlike(this.#wanted, batch)) this.ask(batch);
  }

  /** Asks for the yield of this batch. */
  ask(batch: Batch): void {
    this.#wanted = batch;
    this.#asked?.abort();
    clearTimeout(this.#timer);
    if (this.#call === undefined) return;
    const { answer, before, isUpdating } = this.#state;
    this.#state = { answer, before: isUpdating ? before : answer, isUpdating: true, fault: undefined };
    this.#timer = setTimeout(() => void this.#run(batch), PAUSE_MS);
  }

  async #run(batch: Batch): Promise<void> {
    const asked = new AbortController();
    this.#asked = asked;
    const { before } = this.#state;
    try {
      const answer = await this.#call!(batch, asked.signal);
      if (asked.signal.aborted) return;
      this.#state = { answer, before, isUpdating: false, fault: undefined };
    } catch (error) {
      if (asked.signal.aborted) return;
      const fault = error instanceof Error ? error.message : String(error);
      const isBroken = error instanceof WorkerFault;
      this.#state = { answer: undefined, before, isUpdating: false, fault, isBroken };
    }
    this.#changed();
  }
}
