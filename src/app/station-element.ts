import { type CSSResultGroup, LitElement } from 'lit';
import { property } from 'lit/decorators.js';
import type { Bench } from './bench.ts';
import type { BenchState } from './bench-state.ts';
import { stationStyles } from './station-styles.ts';

/** A view of the bench: gets its state as one value and calls the bench's methods. */
export abstract class StationElement extends LitElement {
  static override styles: CSSResultGroup = stationStyles;

  @property({ attribute: false }) bench!: Bench;
  @property({ attribute: false }) state!: BenchState;

  override connectedCallback(): void {
    super.connectedCallback();
    // Back on the page after a while aside: what it follows may have changed, and what it asked was dropped.
    if (this.hasUpdated) this.requestUpdate();
  }
}
