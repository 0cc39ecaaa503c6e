import { define } from '../support/define.ts';
import { StackSectionElement } from './stack-section-element.ts';

define('cw-stack-section', StackSectionElement);

declare global {
  interface HTMLElementTagNameMap {
    'cw-stack-section': StackSectionElement;
  }
}
