import { define } from '../support/define.ts';
import { RunTimelineElement } from './run-timeline-element.ts';

define('cw-run-timeline', RunTimelineElement);

declare global {
  interface HTMLElementTagNameMap {
    'cw-run-timeline': RunTimelineElement;
  }
}
