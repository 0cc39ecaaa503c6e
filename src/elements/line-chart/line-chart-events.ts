import type { ViewRange } from './line-chart-data.ts';

/** The reader points at this x; undefined when at none. */
export class ChartCursorEvent extends Event {
  readonly x: number | undefined;

  constructor(x: number | undefined) {
    super('cw-chart-cursor', { bubbles: true, composed: true });
    this.x = x;
  }
}

/** The reader has zoomed or moved the view; undefined when all is shown. */
export class ChartViewEvent extends Event {
  readonly view: ViewRange | undefined;

  constructor(view: ViewRange | undefined) {
    super('cw-chart-view', { bubbles: true, composed: true });
    this.view = view;
  }
}

declare global {
  interface HTMLElementEventMap {
    'cw-chart-cursor': ChartCursorEvent;
    'cw-chart-view': ChartViewEvent;
  }
}
