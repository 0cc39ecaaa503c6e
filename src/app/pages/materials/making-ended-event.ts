/** A material has been put into the batch (`material` is its id), or the making was left (undefined). */
export class MakingEndedEvent extends Event {
  readonly material: string | undefined;

  constructor(material: string | undefined) {
    super('app-making-ended', { bubbles: true, composed: true });
    this.material = material;
  }
}

declare global {
  interface HTMLElementEventMap {
    'app-making-ended': MakingEndedEvent;
  }
}
