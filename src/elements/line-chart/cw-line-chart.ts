import { define } from '../support/define.ts';
import { LineChartElement } from './line-chart-element.ts';

define('cw-line-chart', LineChartElement);

declare global {
  interface HTMLElementTagNameMap {
    'cw-line-chart': LineChartElement;
  }
}
