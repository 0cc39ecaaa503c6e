import { html } from 'lit';
import type { ChartRows } from './chart-csv.ts';
import { axisPlace, figureText } from './figure-text.ts';
import type { ChartAxis } from './line-chart-data.ts';

/** The chart's data as a table in a box that scrolls. */
export function dataTable(
  { headings, rows }: ChartRows,
  label: string,
  { nameOf }: ChartAxis,
  digits: number,
) {
  return html`
    <div class="table" role="region" tabindex="0" aria-label="${label}: table">
      <table>
        <thead>
          <tr>${headings.map((text) => html`<th scope="col" class="figure">${text}</th>`)}</tr>
        </thead>
        <tbody>
          ${rows.map(
            ([x, ...values]) => html`
              <tr>
                <th scope="row" class="figure">${axisPlace({ unit: '', ...(nameOf && { nameOf }) }, x)}</th>
                ${values.map((value) => html`<td class="figure">${figureText(value, digits)}</td>`)}
              </tr>
            `,
          )}
        </tbody>
      </table>
    </div>
  `;
}
