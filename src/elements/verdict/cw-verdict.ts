import { define } from '../support/define.ts';
import { VerdictElement } from './verdict-element.ts';

define('cw-verdict', VerdictElement);

declare global {
  interface HTMLElementTagNameMap {
    'cw-verdict': VerdictElement;
  }
}
