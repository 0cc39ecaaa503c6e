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
import type { Bench } from '../../bench.ts';
import { PanelRun } from '../../panel-run.ts';

/** Has shapes of shields computed in a worker and puts the good ones into the batch. */
export class ShieldDesk implements ReactiveController {
  /** Id of the shield whose shape is being computed; '' while none is. */
  busy = '';
  /** What came of the last one, in a sentence. */
  said = '';
  readonly #host: ReactiveControllerHost;
  readonly #shape: PanelRun<EvenedOut>;

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
    this.#shape = new PanelRun(host, 'shield');
    host.addController(this);
  }

  hostDisconnected(): void {
    this.busy = '';
  }

  /** Seeks the shape that evens the load's film and, where it does, hangs the shield (in place of one of the same name). */
  async evenOut(bench: Bench, batch: Batch, load: LoadPlan, wanted: WantedShield): Promise<void> {
    this.busy = wanted.id;
    this.said = '';
    const evened = await this.#shape.ask(evenOutRequest(batch, load, wanted));
    if (evened !== undefined) this.#take(bench, wanted, evened);
    else if (this.#shape.fault !== '') this.said = `There is no such shield. ${this.#shape.fault}`;
    else return; // another one is being sought, or the view is gone
    this.busy = '';
    this.#host.requestUpdate();
  }

  #take(bench: Bench, wanted: WantedShield, { shield, films }: EvenedOut): void {
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
  }
}
