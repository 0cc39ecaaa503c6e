import { html, type TemplateResult } from 'lit';
import { heatLimit, heatLimitWords } from '../../../batch/plan/heat-limit.ts';
import { type Desk, type NumberFieldOptions, numberField } from '../../fields/fields.ts';
import { labelOf } from '../material-words.ts';

/** Heaters, time constants and how fast the glass may follow them, with the reason for that. */
export function heatFields(desk: Desk): TemplateResult {
  const { batch } = desk.state;
  const of = (name: string, label: string, options: NumberFieldOptions = {}) =>
    numberField(desk, ['chamber', name], label, options);
  const limit = heatLimit(batch);
  return html`<div class="fields">
      ${of('heaterC', 'Heaters drive towards', { name: 'Heater temperature' })}
      ${of('heatTimeConstantMin', 'Time constant, heating')}
      ${of('coolTimeConstantMin', 'Time constant, cooling')}
      ${of('ventBelowC', 'Vent below')}
      ${of('ambientC', 'Room')}
      ${numberField(desk, ['order', 'lens', 'maximumRateKPerMin'], 'Fastest change of temperature', {
        optional: true,
        digits: 3,
        ...(limit === undefined ? {} : { usual: limit.rateKPerMin }),
      })}
    </div>
    <p class="small soft">${heatLimitWords(limit, labelOf(batch.order.lens.substrate, batch))}</p>`;
}
