import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { fixed } from '../../../base/format.ts';
import type { Batch } from '../../../batch/document.ts';
import {
  evenOutRequest,
  isBetter,
  madeShield,
  type WantedShield,
} from '../../../batch/plan/even-out-load.ts';
import type { LoadPlan } from '../../../batch/plan/plan-types.ts';
import type { EvenedOut } from '../../../chamber/even-out.ts';
import { TaskClient } from '../../../compute/task-client.ts';
import type { Bench } from '../../bench.ts';
import { startWorker } from '../../compute-workers.ts';

/** Has shapes of shields computed in a worker and puts the good ones into the batch. */
export class ShieldDesk implements ReactiveController {
  /** Id of the shield whose shape is being computed; '' while none is. */
  busy = '';
  /** What came of the last one, in a sentence. */
  said = '';
  readonly #host: ReactiveControllerHost;
  readonly #client = new TaskClient(startWorker);
  #asked: AbortController | undefined;

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
    host.addController(this);
  }

  hostDisconnected(): void {
    this.#asked?.abort();
    this.busy = '';
    this.#client.close();
  }

  /** Seeks the shape that evens the load's film and, where it does, hangs the shield (in place of one of the same name). */
  async evenOut(bench: Bench, batch: Batch, load: LoadPlan, wanted: WantedShield): Promise<void> {
    const asked = new AbortController();
    this.#asked?.abort();
    this.#asked = asked;
    this.busy = wanted.id;
    this.said = '';
    this.#host.requestUpdate();
    try {
      const { shield, films } = await this.#client.ask<EvenedOut>(
        'shield',
        evenOutRequest(batch, load, wanted),
        { signal: asked.signal },
      );
      const worst = (pick: 'bareDeviationPercent' | 'deviationPercent') =>
        fixed(Math.max(...films.map((film) => film[pick])), 3);
      const change = `±${worst('bareDeviationPercent')} % to ±${worst('deviationPercent')} %`;
      const taken = fixed(Math.max(...films.map(({ takenPercent }) => takenPercent)), 1);
      if (isBetter(films)) {
        this.said = `Over all that the lenses cover, the film goes from ${change}; the shield takes ${taken} % of it.`;
        bench.edit({
          name: `Shield ${wanted.id}: the film from ${change}`,
          recipe: (draft) => {
            const made = madeShield(wanted, shield);
            const shields = draft.chamber.shields ?? [];
            const at = shields.findIndex(({ id }) => id === wanted.id);
            const kept = at < 0 ? {} : shields[at]!.inTooling === true ? { inTooling: true } : {};
            draft.chamber.shields = at < 0 ? [...shields, made] : shields.with(at, { ...made, ...kept });
          },
        });
      } else
        this.said = `No shield at ${wanted.heightMm} mm and ${wanted.azimuthDeg}° evens this film: the best one goes from ${change}. Another height or direction may.`;
    } catch (error) {
      if (asked.signal.aborted) return;
      this.said = `There is no such shield: ${error instanceof Error ? error.message : String(error)}.`;
    }
    this.busy = '';
    this.#host.requestUpdate();
  }
}
