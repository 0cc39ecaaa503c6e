/** A rehearsal has been played to its end: the thickness that every layer really got, nm on the lens. */
export class RehearsedEvent extends Event {
  readonly thicknessNm: readonly number[];

  constructor(thicknessNm: readonly number[]) {
    super('app-rehearsed', { bubbles: true, composed: true });
    this.thicknessNm = thicknessNm;
  }
}

declare global {
  interface HTMLElementEventMap {
    'app-rehearsed': RehearsedEvent;
  }
}
