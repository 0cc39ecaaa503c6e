import { define } from '../support/define.ts';
import { RippleStripElement } from './ripple-strip-element.ts';

define('cw-ripple-strip', RippleStripElement);

declare global {
  interface HTMLElementTagNameMap {
    'cw-ripple-strip': RippleStripElement;
  }
}
