/** The reader has picked a place of the load. */
export class PartSelectEvent extends Event {
  readonly rackId: string;
  readonly partId: string;

  constructor(rackId: string, partId: string) {
    super('cw-part-select', { bubbles: true, composed: true });
    this.rackId = rackId;
    this.partId = partId;
  }
}

declare global {
  interface HTMLElementEventMap {
    'cw-part-select': PartSelectEvent;
  }
}
