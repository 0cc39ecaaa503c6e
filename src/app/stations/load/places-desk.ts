import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Batch } from '../../../batch/document.ts';
import type { BestAim } from '../../../batch/plan/best-aim.ts';
import type { PlacesPlan } from '../../../batch/plan/places-plan.ts';
import type { Plan } from '../../../batch/plan/plan-types.ts';
import { TaskClient } from '../../../compute/task-client.ts';
import { startWorker } from '../../compute-workers.ts';

/** An edit is followed by the questions after this pause, so that dragging asks once. */
const PAUSE_MS = 300;

/** An answer and the plan that it belongs to. */
export interface OfPlan<Answer> {
  readonly plan: Plan;
  readonly answer: Answer;
}

/**
 * Verdicts of the places and the best aim, worked out in a worker of their own, the verdicts first. The newest batch wins;
 * what was known is kept, with its plan, until the new answer is there.
 */
export class PlacesDesk implements ReactiveController {
  places: OfPlan<PlacesPlan> | undefined;
  aim: OfPlan<BestAim> | undefined;
  /** The verdicts before the last ones. */
  before: PlacesPlan | undefined;
  /** Why there is no answer; '' where nothing went wrong. */
  fault = '';
  readonly #host: ReactiveControllerHost;
  readonly #client = new TaskClient(startWorker);
  #wanted: Plan | undefined;
  #asked: AbortController | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
    host.addController(this);
  }

  hostDisconnected(): void {
    clearTimeout(this.#timer);
    this.#asked?.abort();
    this.#wanted = undefined;
    this.#client.close();
  }

  /** Asks for this batch unless that was done already. */
  want(batch: Batch, plan: Plan): void {
    if (plan === this.#wanted) return;
    this.#wanted = plan;
    this.#asked?.abort();
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.#ask(batch, plan), this.places === undefined ? 0 : PAUSE_MS);
  }

  async #ask(batch: Batch, plan: Plan): Promise<void> {
    const asked = new AbortController();
    this.#asked = asked;
    const { signal } = asked;
    try {
      const answer = await this.#client.ask<PlacesPlan>('places', { batch }, { signal });
      this.before = this.places?.answer;
      this.places = { plan, answer };
      this.fault = '';
      this.#host.requestUpdate();
      this.aim = { plan, answer: await this.#client.ask<BestAim>('aim', { batch }, { signal }) };
    } catch (error) {
      if (signal.aborted) return;
      this.fault = error instanceof Error ? error.message : String(error);
    }
    this.#host.requestUpdate();
  }
}
