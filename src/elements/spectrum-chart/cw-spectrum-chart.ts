import { define } from '../support/define.ts';
import { SpectrumChartElement } from './spectrum-chart-element.ts';

define('cw-spectrum-chart', SpectrumChartElement);

declare global {
  interface HTMLElementTagNameMap {
    'cw-spectrum-chart': SpectrumChartElement;
  }
}
