/** What of the chamber is moved; `id` names the source or mask, '' for the load itself. */
export interface ChamberMove {
  readonly what: 'source' | 'mask' | 'height' | 'tilt';
  readonly id: string;
  /** mm from the axis for sources, mm of height for masks and the load, degrees for the tilt. */
  readonly value: number;
}

/** A part of the chamber is being dragged. */
export class ChamberMoveInputEvent extends Event {
  readonly move: ChamberMove;

  constructor(move: ChamberMove) {
    super('cw-chamber-move-input', { bubbles: true, composed: true });
    this.move = move;
  }
}

/** A part of the chamber has been moved. */
export class ChamberMoveEvent extends Event {
  readonly move: ChamberMove;

  constructor(move: ChamberMove) {
    super('cw-chamber-move', { bubbles: true, composed: true });
    this.move = move;
  }
}

declare global {
  interface HTMLElementEventMap {
    'cw-chamber-move-input': ChamberMoveInputEvent;
    'cw-chamber-move': ChamberMoveEvent;
  }
}
