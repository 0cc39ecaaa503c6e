import { html, nothing, type TemplateResult } from 'lit';
import type { Batch, MaterialProcess } from '../../../batch/document.ts';
import { processOf } from '../../../batch/plan/film-facts.ts';
import {
  choiceField,
  type Desk,
  type NumberFieldOptions,
  numberField,
  textField,
} from '../../fields/fields.ts';
import { labelOf } from '../material-words.ts';
import { heatFields } from './heat-fields.ts';
import { pumpFields } from './pump-fields.ts';

/** The materials that the batch's coatings use, in the order in which they first come. */
export function filmsUsed({ surfaces }: Batch): string[] {
  const back = typeof surfaces.back === 'object' ? surfaces.back.layers : [];
  return [...new Set([...surfaces.front.layers, ...back].map(({ material }) => material))];
}

/** Settings of every material in the stacks, a row each; what the batch does not say stands as the house has it. */
export function materialTable(desk: Desk): TemplateResult {
  const { batch } = desk.state;
  const films = filmsUsed(batch);
  if (films.length === 0) return html`<p class="empty">No layer, so nothing to evaporate yet.</p>`;
  const sources = batch.chamber.sources.map(({ id, kind }) => [id, `${id} (${kind})`] as const);
  return html`<p class="small soft">Two sources may fire one material together, for speed or evenness. The rate is what the crystal sees of both, the percent figure the second one's part of the mass; a tooling holds for the sources with which it was measured.</p>
  <div class="scroll" tabindex="0" role="group" aria-label="Settings of the materials"><table>
    <caption>What each material is evaporated from and how. Figures not yet given are the usual ones of the house.</caption>
    <thead><tr><th>Material</th><th>Source</th><th>Rate</th><th>Ramp</th><th>Soak</th><th>Shutter delay</th><th>Oxygen</th><th>Settling</th><th>Witness tooling</th><th>Crystal tooling</th><th>Reserve</th><th>Price</th></tr></thead>
    <tbody>${films.map((id) => materialRow(desk, id, sources))}</tbody>
  </table></div>`;
}

function materialRow(
  desk: Desk,
  id: string,
  sources: readonly (readonly [string, string])[],
): TemplateResult {
  const { batch, preferences } = desk.state;
  const usual = processOf(batch, id);
  const label = labelOf(id, batch);
  const whole = (draft: Batch) => {
    // The first figure that is given makes the whole row the batch's own.
    draft.process.materials[id] ??= { ...usual };
    const own = draft.process.materials[id];
    Object.assign(own, { ...usual, ...own });
  };
  const field = (name: keyof MaterialProcess, what: string, options: NumberFieldOptions = {}) =>
    html`<td>${numberField(desk, ['process', 'materials', id, name], `${label}: ${what}`, { compact: true, name: `${label}, ${what}`, usual: usual[name] as number, also: whole, ...options })}</td>`;
  return html`<tr>
    <th scope="row">${label}</th>
    <td>${sourceChoice(desk, id, sources, whole)}</td>
    ${field('rateNmPerS', 'rate', { displayUnit: preferences.lengthUnit === 'Å' ? 'Å/s' : '' })}
    ${field('rampS', 'ramp')}
    ${field('soakS', 'soak')}
    ${field('shutterDelayS', 'shutter delay')}
    ${field('oxygenPa', 'oxygen', { displayUnit: preferences.pressureUnit })}
    ${field('oxygenSettleS', 'oxygen settling')}
    ${field('witnessTooling', 'witness tooling')}
    ${field('crystalTooling', 'crystal tooling')}
    ${field('chargeReservePercent', 'charge reserve')}
    ${field('pricePerG', 'price', { optional: true })}
  </tr>`;
}

/** Where a material comes from: one source, or two that fire together, with the second one's part of the mass. */
function sourceChoice(
  desk: Desk,
  id: string,
  sources: readonly (readonly [string, string])[],
  whole: (draft: Batch) => void,
): TemplateResult {
  const { batch } = desk.state;
  const { source, partner } = processOf(batch, id);
  const label = labelOf(id, batch);
  const path = ['process', 'materials', id] as const;
  const alone = (draft: Batch) => {
    whole(draft);
    const settings = draft.process.materials[id]!;
    if (settings.partner?.source === settings.source) delete settings.partner;
  };
  const together = (draft: Batch, value: string) => {
    whole(draft);
    const settings = draft.process.materials[id]!;
    if (value === '') delete settings.partner;
    else settings.partner = { source: value, sharePercent: partner?.sharePercent ?? 50 };
  };
  const others = sources.filter(([other]) => other !== source);
  return html`
    ${choiceField(desk, [...path, 'source'], `${label}: source`, sources, { usual: source, compact: true, also: alone })}
    ${
      others.length === 0
        ? nothing
        : choiceField(
            desk,
            [...path, 'partner', 'source'],
            `${label}: fires together with`,
            [['', 'alone'], ...others.map(([other, words]) => [other, `with ${words}`] as const)],
            { usual: '', compact: true, also: together },
          )
    }
    ${
      partner === undefined
        ? nothing
        : numberField(
            desk,
            [...path, 'partner', 'sharePercent'],
            `${label}: ${partner.source}'s part of the mass`,
            {
              compact: true,
              name: `${label}, part from ${partner.source}`,
            },
          )
    }
  `;
}

/** Times and temperature of the process. */
export function processFields(desk: Desk): TemplateResult {
  const minutes = (name: string, label: string) => numberField(desk, ['process', name], label);
  return html`<div class="fields">
    ${numberField(desk, ['process', 'temperatureC'], 'Process temperature')}
    ${minutes('soakMin', 'Soak')}
    ${minutes('loadMin', 'Loading')}
    ${minutes('ventMin', 'Venting')}
    ${minutes('unloadMin', 'Unloading')}
    ${numberField(desk, ['process', 'pocketChangeS'], 'Pocket change')}
    ${minutes('cleanMin', 'Cleaning')}
    ${numberField(desk, ['process', 'cleanEveryRuns'], 'Cleaned every so many runs', { name: 'Runs between cleanings' })}
  </div>`;
}

/** Chamber, pumps, heat, sources and crystals. */
export function chamberFields(desk: Desk): TemplateResult {
  const { batch } = desk.state;
  const { chamber } = batch;
  const of = (name: string, label: string, options: NumberFieldOptions = {}) =>
    numberField(desk, ['chamber', name], label, options);
  return html`
    <div class="fields">
      <div class="field wide">${textField(desk, ['chamber', 'name'], 'Chamber', { maxLength: 80 })}</div>
      ${of('diameterMm', 'Inner diameter', { name: 'Chamber diameter' })}
      ${of('heightMm', 'Inner height', { name: 'Chamber height' })}
      ${of('volumeM3', 'Volume', { name: 'Chamber volume' })}
    </div>
    <h3>Pumps</h3>
    ${pumpFields(desk)}
    <h3>Heat</h3>
    ${heatFields(desk)}
    <h3>Sources</h3>
    ${chamber.sources.map(({ id }, index) => {
      const path = ['chamber', 'sources', index] as const;
      return html`<div class="fields" role="group" aria-label="Source ${id}">
        <div class="field"><span class="small soft">Source</span><b>${id}</b></div>
        ${numberField(desk, [...path, 'offsetMm'], "From the machine's axis", { name: `${id}: distance from the axis` })}
        ${numberField(desk, [...path, 'azimuthDeg'], 'Direction', { name: `${id}: direction` })}
        ${numberField(desk, [...path, 'exponent'], 'Emission exponent', { name: `${id}: emission exponent` })}
        ${numberField(desk, [...path, 'pockets'], 'Pockets', { name: `${id}: pockets` })}
        ${numberField(desk, [...path, 'pocketCm3'], 'A pocket holds', { name: `${id}: pocket` })}
      </div>`;
    })}
    <h3>Crystals</h3>
    <div class="fields">
      ${numberField(desk, ['chamber', 'crystals', 'count'], 'Crystals in the holder')}
      ${numberField(desk, ['chamber', 'crystals', 'frequencyHz'], 'Frequency, fresh', { displayUnit: 'MHz', name: 'Crystal frequency' })}
      ${numberField(desk, ['chamber', 'crystals', 'budgetHz'], 'Changed after a drop of', { name: 'Crystal budget' })}
      ${numberField(desk, ['chamber', 'crystals', 'changeS'], 'A change takes', { name: 'Crystal change' })}
      ${numberField(desk, ['chamber', 'crystals', 'offsetMm'], "From the machine's axis", { optional: true, usual: 0, name: 'Crystal: distance from the axis' })}
      ${numberField(desk, ['chamber', 'crystals', 'heightMm'], 'Above the sources', { optional: true, usual: batch.fixture.heightMm, name: 'Crystal: height' })}
      ${numberField(desk, ['chamber', 'crystals', 'price'], 'Price of a crystal', { optional: true })}
    </div>
  `;
}

/** What machine, labour and lens cost, for the cost of a good lens. */
export function moneyFields(desk: Desk): TemplateResult {
  const { bench, state } = desk;
  if (state.batch.money === undefined) {
    const begin = () =>
      bench.edit({
        name: 'Costs taken up',
        recipe: (draft) => {
          draft.money = {
            currency: 'EUR',
            machinePerHour: 90,
            labourPerHour: 45,
            attendedPercent: 40,
            lensValue: 0,
          };
        },
      });
    return html`<div><button @click=${begin}>Count the cost as well</button></div>`;
  }
  const per = (name: string, label: string) => numberField(desk, ['money', name], label);
  return html`<div class="fields">
    ${textField(desk, ['money', 'currency'], 'Currency', { maxLength: 8 })}
    ${per('machinePerHour', 'Machine')} ${per('labourPerHour', 'Labour')} ${per('attendedPercent', 'Attended share of a run')}
    ${per('lensValue', 'Worth of a lens')}
  </div>`;
}
