import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { startWorker } from './compute-workers.ts';
import { TaskRun } from './task-run.ts';

/** What a panel asks may take minutes; longer silence is a worker that hangs. */
const HUNG_AFTER_MS = 600_000;

/** A panel's own question to a worker: it redraws the panel and ends with it. */
export class PanelRun<Answer> extends TaskRun<Answer> implements ReactiveController {
  constructor(host: ReactiveControllerHost, task: string) {
    super(task, startWorker, () => host.requestUpdate(), HUNG_AFTER_MS);
    host.addController(this);
  }

  hostDisconnected(): void {
    this.close();
  }
}
