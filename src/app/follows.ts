import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** What tells its listeners of each change until they leave. */
export interface Told {
  subscribe(listener: () => void): () => void;
}

/** Renders a view anew at each change of what it follows, as long as the view stands on the page. */
export class Follows implements ReactiveController {
  readonly #host: ReactiveControllerHost;
  readonly #followed: () => Told;
  #hasUpdated = false;
  #leave: (() => void) | undefined;

  /** @param followed asked once the view has its properties. */
  constructor(host: ReactiveControllerHost, followed: () => Told) {
    this.#host = host;
    this.#followed = followed;
    host.addController(this);
  }

  hostConnected(): void {
    if (this.#hasUpdated) this.#listen();
  }

  hostUpdated(): void {
    if (this.#hasUpdated) return;
    this.#hasUpdated = true;
    this.#listen();
  }

  hostDisconnected(): void {
    this.#leave?.();
    this.#leave = undefined;
  }

  #listen(): void {
    this.#leave ??= this.#followed().subscribe(() => this.#host.requestUpdate());
  }
}
