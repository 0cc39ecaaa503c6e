import { define } from '../support/define.ts';
import { QuantityFieldElement } from './quantity-field-element.ts';

define('cw-quantity-field', QuantityFieldElement);

declare global {
  interface HTMLElementTagNameMap {
    'cw-quantity-field': QuantityFieldElement;
  }
}
