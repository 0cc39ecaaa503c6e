import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** Keeps the host's width in CSS pixels and updates it when that changes. */
export class ResizeController implements ReactiveController {
  /** 0 until the host has been measured. */
  widthPx = 0;

  private readonly host: ReactiveControllerHost & HTMLElement;
  private readonly observer = new ResizeObserver(([entry]) => {
    const width = Math.round(entry?.contentRect.width ?? 0);
    if (width === this.widthPx) return;
    this.widthPx = width;
    this.host.requestUpdate();
  });

  constructor(host: ReactiveControllerHost & HTMLElement) {
    this.host = host;
    host.addController(this);
  }

  hostConnected(): void {
    this.observer.observe(this.host);
  }

  hostDisconnected(): void {
    this.observer.disconnect();
  }
}
