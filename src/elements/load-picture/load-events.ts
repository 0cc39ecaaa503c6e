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

/** What has been moved, and where to: a source in the plane, a shield around the axis. */
export type LoadMove =
  | { readonly what: 'source'; readonly id: string; readonly xMm: number; readonly yMm: number }
  | { readonly what: 'shield'; readonly id: string; readonly azimuthDeg: number };

/** A source or a shield is being dragged. */
export class LoadMoveInputEvent extends Event {
  readonly move: LoadMove;

  constructor(move: LoadMove) {
    super('cw-load-move-input', { bubbles: true, composed: true });
    this.move = move;
  }
}

/** A source or a shield has been dragged. */
export class LoadMoveEvent extends Event {
  readonly move: LoadMove;

  constructor(move: LoadMove) {
    super('cw-load-move', { bubbles: true, composed: true });
    this.move = move;
  }
}

declare global {
  interface HTMLElementEventMap {
    'cw-part-select': PartSelectEvent;
    'cw-load-move-input': LoadMoveInputEvent;
    'cw-load-move': LoadMoveEvent;
  }
}
