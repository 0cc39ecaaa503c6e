/** A boundary is being dragged: layer (0 lies on the glass) and its thickness so far. */
export class LayerThicknessInputEvent extends Event {
  readonly layer: number;
  readonly thicknessNm: number;

  constructor(layer: number, thicknessNm: number) {
    super('cw-layer-thickness-input', { bubbles: true, composed: true });
    this.layer = layer;
    this.thicknessNm = thicknessNm;
  }
}

/** A layer has been given this thickness. */
export class LayerThicknessChangeEvent extends Event {
  readonly layer: number;
  readonly thicknessNm: number;

  constructor(layer: number, thicknessNm: number) {
    super('cw-layer-thickness-change', { bubbles: true, composed: true });
    this.layer = layer;
    this.thicknessNm = thicknessNm;
  }
}

/** The reader has picked a layer. */
export class LayerSelectEvent extends Event {
  readonly layer: number;

  constructor(layer: number) {
    super('cw-layer-select', { bubbles: true, composed: true });
    this.layer = layer;
  }
}

declare global {
  interface HTMLElementEventMap {
    'cw-layer-thickness-input': LayerThicknessInputEvent;
    'cw-layer-thickness-change': LayerThicknessChangeEvent;
    'cw-layer-select': LayerSelectEvent;
  }
}
