/** While something valid is being typed: `value` in the field's unit (undefined where an optional field is emptied). */
export class QuantityInputEvent extends Event {
  readonly value: number | undefined;

  constructor(value: number | undefined) {
    super('cw-quantity-input', { bubbles: true, composed: true });
    this.value = value;
  }
}

/** The value has been settled by Enter, by leaving the field or by an arrow key. */
export class QuantityChangeEvent extends Event {
  readonly value: number | undefined;

  constructor(value: number | undefined) {
    super('cw-quantity-change', { bubbles: true, composed: true });
    this.value = value;
  }
}

declare global {
  interface HTMLElementEventMap {
    'cw-quantity-input': QuantityInputEvent;
    'cw-quantity-change': QuantityChangeEvent;
  }
}
