import { define } from '../support/define.ts';
import { ColourPatchElement } from './colour-patch-element.ts';

define('cw-colour-patch', ColourPatchElement);

declare global {
  interface HTMLElementTagNameMap {
    'cw-colour-patch': ColourPatchElement;
  }
}
