/** What gestures on a chart ask of it; places are picture coordinates across the chart in CSS pixels. */
export interface ChartGestureTarget {
  pointAt(pixel: number | undefined): void;
  zoomAt(pixel: number, factor: number): void;
  panBy(pixels: number): void;
  selecting(from: number, to: number): void;
  select(from: number, to: number): void;
  showAll(): void;
}

const DRAG_PX = 6;

/**
 * Pointer gestures: moving reads out, dragging selects a stretch, dragging with Shift (or the middle button)
 * moves the view, a double click shows all, the wheel with Ctrl (and so a touch pad's pinch) zooms. On touch one finger reads
 * out and two fingers zoom and move; a vertical swipe stays with the page.
 */
export class ChartGestures {
  private readonly target: ChartGestureTarget;
  private readonly down = new Map<number, number>();
  private start: { x: number; pan: boolean } | undefined;

  constructor(target: ChartGestureTarget) {
    this.target = target;
  }

  readonly onPointerDown = (event: PointerEvent): void => {
    this.down.set(event.pointerId, event.offsetX);
    (event.currentTarget as Element).setPointerCapture?.(event.pointerId);
    if (event.pointerType === 'touch') this.target.pointAt(event.offsetX);
    else this.start = { x: event.offsetX, pan: event.shiftKey || event.button === 1 };
  };

  readonly onPointerMove = (event: PointerEvent): void => {
    const before = this.down.get(event.pointerId);
    if (this.down.size === 2 && before !== undefined) {
      this.pinch(event, before);
      return;
    }
    if (before !== undefined) this.down.set(event.pointerId, event.offsetX);
    if (this.start?.pan && before !== undefined) this.target.panBy(event.offsetX - before);
    else if (this.start && Math.abs(event.offsetX - this.start.x) > DRAG_PX)
      this.target.selecting(this.start.x, event.offsetX);
    else this.target.pointAt(event.offsetX);
  };

  readonly onPointerUp = (event: PointerEvent): void => {
    this.down.delete(event.pointerId);
    const { start } = this;
    this.start = undefined;
    if (start && !start.pan && Math.abs(event.offsetX - start.x) > DRAG_PX)
      this.target.select(start.x, event.offsetX);
  };

  readonly onPointerCancel = (event: PointerEvent): void => {
    this.down.delete(event.pointerId);
    this.start = undefined;
    this.target.selecting(0, 0);
  };

  readonly onPointerLeave = (event: PointerEvent): void => {
    if (event.pointerType === 'mouse' && this.start === undefined) this.target.pointAt(undefined);
  };

  readonly onWheel = (event: WheelEvent): void => {
    if (!event.ctrlKey && !event.metaKey) return;
    event.preventDefault();
    this.target.zoomAt(event.offsetX, Math.exp(Math.max(-60, Math.min(60, event.deltaY)) / 150));
  };

  /** Two fingers are the chart's: without this the page would scroll under them. */
  readonly onTouch = {
    passive: false,
    handleEvent(event: TouchEvent): void {
      if (event.touches.length > 1) event.preventDefault();
    },
  };

  readonly onDoubleClick = (): void => this.target.showAll();

  private pinch(event: PointerEvent, before: number): void {
    const other = [...this.down].find(([id]) => id !== event.pointerId)?.[1] ?? before;
    const [was, is] = [Math.abs(before - other), Math.abs(event.offsetX - other)];
    this.down.set(event.pointerId, event.offsetX);
    if (was > 8 && is > 8) this.target.zoomAt((event.offsetX + other) / 2, was / is);
    this.target.panBy((event.offsetX - before) / 2);
  }
}
