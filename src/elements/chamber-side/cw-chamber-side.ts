import { define } from '../support/define.ts';
import { ChamberSideElement } from './chamber-side-element.ts';

define('cw-chamber-side', ChamberSideElement);

declare global {
  interface HTMLElementTagNameMap {
    'cw-chamber-side': ChamberSideElement;
  }
}
