import { define } from '../support/define.ts';
import { LoadPictureElement } from './load-picture-element.ts';

define('cw-load-picture', LoadPictureElement);

declare global {
  interface HTMLElementTagNameMap {
    'cw-load-picture': LoadPictureElement;
  }
}
