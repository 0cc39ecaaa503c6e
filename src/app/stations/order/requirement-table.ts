import { html, nothing, type TemplateResult } from 'lit';
import { live } from 'lit/directives/live.js';
import { significant } from '../../../base/format.ts';
import type { Side } from '../../../batch/document.ts';
import type { RequirementVerdict } from '../../../batch/plan/plan-types.ts';
import type { Requirement } from '../../../design/requirement.ts';
import { REQUIREMENT_TEMPLATES } from '../../../design/requirement-templates.ts';
import '../../../elements/verdict/cw-verdict.ts';
import { choiceField, type Desk, numberField } from '../../fields/fields.ts';
import { pathText } from '../../fields/path.ts';
import { SIDE_NAMES } from '../sides-shown.ts';
import { verdictDetail } from '../verdict-detail.ts';
import { anglesText, readAngles } from './angle-text.ts';
import {
  addRequirement,
  removeRequirement,
  setQuantity,
  surfaceOf,
  useTemplate,
} from './requirement-edits.ts';

/** The requirements of one side as sentences in numbers, each with its verdict. */
export function requirementTable(desk: Desk, side: Side): TemplateResult {
  const requirements = surfaceOf(desk.state.batch, side)?.requirements ?? [];
  const verdicts = desk.state.plan?.surfaces.find((surface) => surface.side === side)?.requirements ?? [];
  return html`<div class="group">
    <div class="head">
      <h2>What the ${side} has to do</h2>
      ${templatePicker(desk, side)}
      <button @click=${() => desk.bench.edit(addRequirement(side))}>Add a requirement</button>
    </div>
    ${
      requirements.length === 0
        ? html`<div class="empty">
            <p>Nothing is required of the ${side} yet. Take a template of the trade, or add a requirement and type the drawing's figures.</p>
            <dl>${REQUIREMENT_TEMPLATES.map(({ name, use }) => html`<dt>${name}</dt><dd>${use}</dd>`)}</dl>
          </div>`
        : html`<ol class="requirements">
            ${requirements.map((requirement, index) => requirementLine(desk, side, index, requirement, desk.state.isStale ? undefined : verdicts[index]))}
          </ol>`
    }
  </div>`;
}

function requirementLine(
  desk: Desk,
  side: Side,
  index: number,
  requirement: Requirement,
  verdict: RequirementVerdict | undefined,
): TemplateResult {
  const path = ['surfaces', side, 'requirements', index] as const;
  const title = `${SIDE_NAMES[side]} requirement ${index + 1}`;
  const name = (what: string) => `${title}: ${what}`;
  const compact = (what: string) => ({ compact: true, name: name(what) });
  // Weights are relative: one requirement alone has nothing to be weighed against.
  const isWeighed =
    requirement.weight !== 1 || (surfaceOf(desk.state.batch, side)?.requirements.length ?? 0) > 1;
  return html`<li>
    <div class="sentence" role="group" aria-label=${title}>
      ${quantityChoice(desk, side, index, requirement)}
      ${choiceField(desk, [...path, 'statistic'], 'statistic', STATISTICS, compact('statistic'))}
      ${choiceField(desk, [...path, 'sense'], 'which side is good', SENSES, compact('sense'))}
      ${numberField(desk, [...path, 'limit'], 'limit', compact('limit'))}
      <span>from</span>${numberField(desk, [...path, 'bandNm', 0], 'band from', compact('band from'))}
      <span>to</span>${numberField(desk, [...path, 'bandNm', 1], 'band to', compact('band to'))}
      <span>at</span>${anglesField(desk, side, index, requirement)}
      ${choiceField(desk, [...path, 'polarization'], 'polarisation', POLARIZATIONS, compact('polarisation'))}
      ${isWeighed ? html`<span>weight</span>${numberField(desk, [...path, 'weight'], 'weight in the search', compact('weight in the search'))}` : nothing}
      <button class="quiet" aria-label="Remove ${title}" @click=${() => desk.bench.edit(removeRequirement(side, index))}>Remove</button>
    </div>
    ${
      verdict === undefined
        ? nothing
        : html`<cw-verdict .verdict=${verdict.met ? 'met' : 'missed'}>${significant(verdict.valuePercent, 3)} % planned</cw-verdict>
          <span class="small soft">${verdictDetail(verdict)}</span>`
    }
  </li>`;
}

const QUANTITIES = [
  ['R', 'R'],
  ['T', 'T'],
  ['A', 'A'],
] as const;
const STATISTICS = [
  ['mean', 'mean'],
  ['max', 'max'],
  ['min', 'min'],
] as const;
const SENSES = [
  ['below', '≤'],
  ['above', '≥'],
] as const;
const POLARIZATIONS = [
  ['mean', 'unpolarised'],
  ['s', 's'],
  ['p', 'p'],
] as const;

function quantityChoice(
  { bench }: Desk,
  side: Side,
  index: number,
  { quantity }: Requirement,
): TemplateResult {
  const onChange = (event: Event) =>
    bench.edit(
      setQuantity(side, index, (event.target as HTMLSelectElement).value as Requirement['quantity']),
    );
  return html`<select aria-label="quantity" .value=${live(quantity)} @change=${onChange}>
    ${QUANTITIES.map(([name, words]) => html`<option value=${name} ?selected=${name === quantity}>${words}</option>`)}
  </select>`;
}

function anglesField(
  { bench, state }: Desk,
  side: Side,
  index: number,
  { incidenceDeg }: Requirement,
): TemplateResult {
  const path = ['surfaces', side, 'requirements', index, 'incidenceDeg'] as const;
  const key = pathText(path);
  const refusal = state.refusals.get(key);
  const onChange = (event: Event) => {
    const read = readAngles((event.target as HTMLInputElement).value);
    if (typeof read === 'string') {
      bench.refuse(key, read);
      return;
    }
    bench.edit({
      key,
      name: `${SIDE_NAMES[side]} requirement ${index + 1}: angles ${anglesText(incidenceDeg)}° → ${anglesText(read)}°`,
      recipe: (draft) => {
        const requirements = surfaceOf(draft, side)?.requirements;
        if (requirements?.[index] !== undefined)
          requirements[index] = { ...requirements[index], incidenceDeg: [...read] };
      },
    });
    bench.settle();
  };
  return html`<span class="angles"
    ><input
      type="text"
      inputmode="decimal"
      aria-label="angles of incidence in degrees, separated by commas"
      aria-invalid=${refusal === undefined ? 'false' : 'true'}
      .value=${anglesText(incidenceDeg)}
      @change=${onChange}
    /><span class="unit">°</span>${refusal === undefined ? nothing : html`<span class="said" role="status">${refusal}</span>`}</span
  >`;
}

function templatePicker({ bench }: Desk, side: Side): TemplateResult {
  const onChange = (event: Event) => {
    const select = event.target as HTMLSelectElement;
    const template = REQUIREMENT_TEMPLATES.find(({ id }) => id === select.value);
    select.value = '';
    if (template !== undefined) bench.edit(useTemplate(side, template));
  };
  return html`<select aria-label="Requirements of the ${side} from a template" @change=${onChange}>
    <option value="">From a template …</option>
    ${REQUIREMENT_TEMPLATES.map(({ id, name }) => html`<option value=${id}>${name}</option>`)}
  </select>`;
}
