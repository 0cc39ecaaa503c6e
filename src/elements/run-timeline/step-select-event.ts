/** The reader has picked a step of the run. */
export class StepSelectEvent extends Event {
  readonly stepId: string;

  constructor(stepId: string) {
    super('cw-step-select', { bubbles: true, composed: true });
    this.stepId = stepId;
  }
}

declare global {
  interface HTMLElementEventMap {
    'cw-step-select': StepSelectEvent;
  }
}
