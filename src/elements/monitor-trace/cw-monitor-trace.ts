import { define } from '../support/define.ts';
import { MonitorTraceElement } from './monitor-trace-element.ts';

define('cw-monitor-trace', MonitorTraceElement);

declare global {
  interface HTMLElementTagNameMap {
    'cw-monitor-trace': MonitorTraceElement;
  }
}
